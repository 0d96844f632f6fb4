"""One plan, made as the service makes it: in a process of its own, watched, judged by the outside judge."""

import json
import time
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from dispatch.actions.solving import Unsolved, solve
from dispatch.planner.build import Build, Effort
from dispatch.planner.plan import write_plan
from dispatch.planner.read import read_problem
from dispatch.planner.solve.start import Start
from tests.planner.weeks import faults


@dataclass(frozen=True, kw_only=True, slots=True)
class Run:
    """How hard to look: seconds, walks at once, seed."""

    seconds: int
    workers: int
    seed: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Measured:
    """A plan or None, the seconds to the first plan and to the end, the rules it breaks, what went wrong, how many steps."""

    plan: dict[str, Any] | None
    first_s: float | None
    took_s: float
    broken: int
    note: str
    steps: int = 0

    @property
    def total(self) -> int | None:
        """Return the plan's cents."""
        return self.plan["cost"]["total"] if self.plan else None

    def over(self, base: int | None) -> float | None:
        """Return by how many per cent the plan costs more than another."""
        return 100 * (self.total / base - 1) if self.total and base else None


def measured(problem: dict[str, Any], run: Run) -> Measured:
    """Plan a week and have the plan judged."""
    began, first, steps = time.monotonic(), [], [0]

    def hear(line: Mapping[str, Any]) -> None:
        steps.append(line["steps"])
        if line["cost"] is not None and not first:
            first.append(time.monotonic() - began)

    found, wrong = None, []
    try:
        found = solve(
            problem,
            seconds=run.seconds,
            workers=run.workers,
            seed=run.seed,
            on_progress=hear,
        )
        took = time.monotonic() - began
        wrong = faults(problem, found)
    except Unsolved as error:
        took, wrong = time.monotonic() - began, [str(error)]
    return Measured(
        plan=found,
        first_s=first[0] if first else None,
        took_s=took,
        broken=len(wrong),
        note="; ".join(wrong[:2]),
        steps=max(steps),
    )


def total_in(problem: dict[str, Any], run: Run, steps: int) -> int:
    """Return the cents of a plan made in so many steps, however long they take on a machine with other work."""
    effort = Effort(seconds=1e6, seed=run.seed, steps=steps, workers=run.workers)
    plan = Build(read_problem(problem), effort, lambda _: None).run(Start())
    found = json.loads(json.dumps(write_plan(plan)))
    wrong = faults(problem, found)
    if wrong:
        raise AssertionError("; ".join(wrong))
    total: int = found["cost"]["total"]
    return total
