"""Measure the planner: plan every row's weeks, judge every plan, write figures.csv and table.txt to a folder.

Usage: python -m tests.bench FOLDER [--only medium vrptw] [--seeds 3] [--scale 1] [--workers 1] [--routes FOLDER]
"""

import argparse
import sys
from pathlib import Path

from dispatch.planner.prepare import prepare
from tests.bench.figures import Figure, write
from tests.bench.rows import ROWS, Choice


def arguments(argv: list[str] | None = None) -> argparse.Namespace:
    """Read the command line."""
    reader = argparse.ArgumentParser(prog="python -m tests.bench")
    reader.add_argument("folder", type=Path, help="where the figures go")
    reader.add_argument(
        "--only",
        nargs="+",
        default=[""],
        help=f"rows or their beginnings: {', '.join(ROWS)}",
    )
    reader.add_argument(
        "--seeds", type=int, default=3, help="planner seeds for each week"
    )
    reader.add_argument("--scale", type=float, default=1.0, help="seconds times this")
    reader.add_argument("--workers", type=int, default=1, help="walks at once")
    reader.add_argument(
        "--routes", type=Path, help="folder of .vrp files with best_known.csv"
    )
    return reader.parse_args(argv)


def main() -> int:
    """Measure the rows asked for; end with status 1 when a plan broke a rule or none came."""
    args = arguments()
    names = [row for row in ROWS if row.startswith(tuple(args.only))]
    if not names:
        sys.stderr.write(f"No row begins with that; there are: {', '.join(ROWS)}.\n")
        return 2
    args.folder.mkdir(parents=True, exist_ok=True)
    prepare()
    choice = Choice(
        seeds=args.seeds, scale=args.scale, workers=args.workers, routes=args.routes
    )
    figures: list[Figure] = []
    for name in names:
        for one in ROWS[name](name, choice):
            figures.append(one)
            write(args.folder, figures)
    sys.stdout.write((args.folder / "table.txt").read_text())
    return 1 if any(one.broken for one in figures) else 0


if __name__ == "__main__":
    sys.exit(main())
