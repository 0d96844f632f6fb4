"""By hand: plan the outside maker's weeks and print the totals beside the known ones.

Usage: python -m tests.bench.run_table --seconds 10 small:1 small:2 small:3
"""

import argparse
import csv
import sys
import time

from dispatch.actions.solving import solve
from tests.planner.weeks import OUTSIDE, faults, made


def known() -> dict[tuple[str, str], int]:
    """Return the best total known of each week, in cents."""
    with (OUTSIDE / "KNOWN.csv").open() as file:
        rows = list(csv.DictReader(file))
    return {(r["size"], r["seed"]): int(r["known_total_cents"]) for r in rows}


def main() -> None:
    """Print one line for each week asked for."""
    reader = argparse.ArgumentParser()
    reader.add_argument("weeks", nargs="*", default=["small:1", "small:2", "small:3"])
    reader.add_argument("--seconds", type=int, default=10)
    reader.add_argument("--workers", type=int, default=1)
    args = reader.parse_args()
    best = known()
    for week in args.weeks:
        size, seed = week.split(":")
        problem, began = made(size, seed), time.monotonic()
        plan = solve(problem, seconds=args.seconds, workers=args.workers, seed=1)
        took, total = time.monotonic() - began, plan["cost"]["total"]
        base = best.get((size, seed))
        over = f"{100 * (total / base - 1):+.2f} %" if base else "?"
        broken = len(faults(problem, plan))
        sys.stdout.write(
            f"{week:12} {total:>10} known {base} {over} broken {broken} {took:.1f} s\n"
        )


if __name__ == "__main__":
    main()
