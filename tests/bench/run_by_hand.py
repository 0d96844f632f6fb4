"""`python -m tests.bench.run_by_hand [SECONDS]`: how long the planner takes to answer a change by hand of a large week.

A week of the outside maker of some 190 stages is planned for SECONDS (15), then visits are tried at
other vans, days and minutes, people swapped, jobs taken out; what is told is milliseconds of one core.
"""

import random
import sys
from collections.abc import Callable
from time import process_time

from dispatch.planner.by_hand import Done, Where, put, swap, without
from dispatch.planner.plan import Plan, read_plan
from dispatch.planner.problem import Problem
from dispatch.planner.read import read_problem
from tests.planner import weeks

TRIES = 200


def timed(ask: Callable[[], Done]) -> tuple[float, bool]:
    """Return the milliseconds an answer takes, and whether it fits."""
    began = process_time()
    done = ask()
    return 1000 * (process_time() - began), done.plan is not None


def asked(
    problem: Problem, plan: Plan, dice: random.Random
) -> dict[str, Callable[[], Done]]:
    """Return one change of each kind, at random."""
    name = dice.choice(sorted(plan.visits()))
    here, other = plan.visits()[name][0], dice.choice(plan.van_days)
    near = Where(
        van=here.van,
        day=here.day,
        start=plan.visits()[name][1].start + dice.choice((-60, -15, 15, 60)),
    )
    far = Where(
        van=other.van,
        day=other.day,
        start=problem.days[other.day][0] + dice.randrange(480, 960, 5),
    )
    out, into = dice.choice(other.team), dice.choice(sorted(problem.people))
    job = [
        n for n in plan.visits() if problem.stages[n].job == problem.stages[name].job
    ]
    return {
        "nearby": lambda: put(problem, plan, name, near),
        "elsewhere": lambda: put(problem, plan, name, far),
        "swap": lambda: swap(problem, plan, (other.van, other.day), out, into),
        "leave out": lambda: without(problem, plan, job),
        "read and put": lambda: put(read_problem(RAW), plan, name, near),
    }


def main() -> int:
    """Print, for each kind of change: how many fit, the mean and the worst milliseconds."""
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 15.0
    planned = weeks.planned(RAW, steps=10**9, seconds=seconds)
    problem, plan = read_problem(RAW), read_plan(planned | {"bound": None})
    sys.stdout.write(f"{len(plan.visits())} visits in {len(plan.van_days)} van-days\n")
    dice, rows = random.Random(1), dict[str, list[tuple[float, bool]]]()  # noqa: S311 - a bench
    for _ in range(TRIES):
        for kind, ask in asked(problem, plan, dice).items():
            rows.setdefault(kind, []).append(timed(ask))
    for kind, found in rows.items():
        took = [ms for ms, _ in found]
        fit = sum(fits for _, fits in found)
        sys.stdout.write(
            f"{kind:14} {fit:4} of {len(found)} fit, mean {sum(took) / len(took):6.1f} ms, worst {max(took):6.1f} ms\n"
        )
    return 0


RAW = weeks.made("large", 3)

if __name__ == "__main__":
    sys.exit(main())
