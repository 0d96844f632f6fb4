"""`python -m dispatch.planner IN OUT`: plan a week in a process of its own; `-` as IN is standard input.

JSON progress lines on stdout; SIGTERM ends it with the best plan so far; exit 2 and one
sentence on stderr when the problem is invalid.
"""

import argparse
import json
import os
import signal
import sys
from collections.abc import Mapping
from pathlib import Path
from types import FrameType
from typing import Any

from dispatch.planner.build import Build, Effort
from dispatch.planner.plan import InvalidPlan, Plan, read_plan, write_plan
from dispatch.planner.prepare import is_prepared, prepare
from dispatch.planner.problem import InvalidProblem
from dispatch.planner.proof import Proof
from dispatch.planner.read import read_problem
from dispatch.planner.solve.start import Start

# With less time than this, all of it goes to the search.
_PROVEN_SECONDS = 5
_STDIN = Path("-")


class Stop:
    """Set by SIGTERM or SIGINT."""

    def __init__(self) -> None:
        self.asked = False

    def __call__(self) -> bool:
        """Whether somebody asked to stop."""
        return self.asked

    def ask(self, _signal: int = 0, _frame: FrameType | None = None) -> None:
        """Ask to stop with the best plan so far."""
        self.asked = True


def arguments(argv: list[str] | None = None) -> argparse.Namespace:
    """Read the command line."""
    reader = argparse.ArgumentParser(prog="python -m dispatch.planner")
    reader.add_argument("problem", type=Path)
    reader.add_argument("plan", type=Path)
    reader.add_argument("--seconds", type=float, default=20.0)
    reader.add_argument("--workers", type=int, default=1)
    reader.add_argument("--seed", type=int, default=0)
    reader.add_argument("--steps", type=int)
    reader.add_argument("--from", dest="start", type=Path)
    return reader.parse_args(argv)


def read_json(path: Path) -> Any:  # noqa: ANN401 - any JSON value
    """Return the JSON in a file, or of standard input, or raise InvalidProblem with a sentence."""
    try:
        return json.loads(sys.stdin.read() if path == _STDIN else path.read_text())
    except OSError as error:
        raise InvalidProblem(f"{path} cannot be read: {error.strerror}.") from error
    except ValueError as error:
        named = "Standard input" if path == _STDIN else path
        raise InvalidProblem(f"{named} is not JSON: {error}.") from error


def tell(line: Mapping[str, object]) -> None:
    """Print one progress line."""
    sys.stdout.write(json.dumps(line) + "\n")
    sys.stdout.flush()


def start_from(path: Path | None) -> Start:
    """Return the plan to start from; InvalidProblem when it cannot be read."""
    if path is None:
        return Start()
    try:
        plan = read_plan(read_json(path))
    except InvalidPlan as error:
        raise InvalidProblem(f"The plan to start from: {error}") from error
    return Start(van_days=plan.van_days, chosen=plan.chosen)


def leave(path: Path, plan: Plan) -> None:
    """Write a plan whole: whoever reads meanwhile finds the one before or this one."""
    beside = path.with_name(path.name + ".new")
    beside.write_text(json.dumps(write_plan(plan)))
    beside.replace(path)


def solve(args: argparse.Namespace, stop: Stop) -> Plan:
    """Return the best plan of all walks."""
    problem = read_problem(read_json(args.problem))
    if not is_prepared():
        tell({"phase": "compile", "cost": None, "bound": None, "steps": 0})
        prepare()
    start, proofs = start_from(args.start), list[Proof]()
    effort = Effort(
        seconds=args.seconds,
        seed=args.seed,
        steps=args.steps,
        workers=args.workers,
        stop=lambda: stop() or any(proof.best() for proof in proofs),
    )
    build = Build(problem, effort, tell, lambda plan: leave(args.plan, plan))
    if args.steps is not None or args.seconds < _PROVEN_SECONDS:
        # Counted steps give the same plan each time: what is proven by the clock stays out of it.
        return build.run(start)
    with Proof(build, workers=args.workers) as proof:
        proofs.append(proof)
        return build.run(start)


def main(argv: list[str] | None = None) -> int:
    """Plan the week; return the exit status."""
    args, stop = arguments(argv), Stop()
    signal.signal(signal.SIGTERM, stop.ask)
    signal.signal(signal.SIGINT, stop.ask)
    try:
        plan = solve(args, stop)
    except InvalidProblem as error:
        sys.stderr.write(f"{error}\n")
        return 2
    leave(args.plan, plan)
    return 0


if __name__ == "__main__":
    status = main()
    sys.stdout.flush()
    sys.stderr.flush()
    # All is written; taking the compiler down in order would be a quarter of a second more to wait.
    os._exit(status)
