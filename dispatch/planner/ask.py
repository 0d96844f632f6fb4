"""`python -m dispatch.planner.ask`: what a plan would cost with a stage on other days, or with a job done other ways.

JSON on stdin (`problem`, `plan`, and `stage` with `days`: numbers of days, or `job` with `ways`) and on stdout, one
row a day or a way; exit 2 and one sentence on stderr when the question cannot be answered.
"""

import json
import sys
from dataclasses import replace
from typing import Any

from dispatch.planner.another_way import another_way
from dispatch.planner.by_hand import Done
from dispatch.planner.core.jit import is_compiled
from dispatch.planner.cost import cost
from dispatch.planner.moved import Moved, moved
from dispatch.planner.plan import InvalidPlan, Plan, read_plan, write_plan
from dispatch.planner.problem import InvalidProblem, Problem
from dispatch.planner.read import read_problem
from dispatch.planner.rules import judge
from dispatch.planner.rules.readable import faults as unknown_names
from dispatch.planner.solve.whatif import WhatIf


def answer(asked: dict[str, Any]) -> list[dict[str, Any]]:
    """Return a row for each day or way asked about, or raise InvalidProblem with a sentence."""
    problem = read_problem(asked["problem"])
    plan = _sound(problem, asked["plan"])
    if "job" in asked:
        return _ways(problem, plan, asked)
    if asked["stage"] not in problem.stages:
        raise InvalidProblem(f"The week has no stage {asked['stage']!r}.")
    _ready()
    whatif = WhatIf(problem, plan)
    return [_row(moved(whatif, asked["stage"], day)) for day in asked["days"]]


def _ways(problem: Problem, plan: Plan, asked: dict[str, Any]) -> list[dict[str, Any]]:
    if asked["job"] not in problem.jobs:
        raise InvalidProblem(f"The week has no job {asked['job']!r}.")
    _ready()
    return [
        {"way": way, **_done(another_way(problem, plan, asked["job"], way))}
        for way in asked["ways"]
    ]


def _done(done: Done) -> dict[str, Any]:
    return {
        "cents": done.cents,
        "moved": list(done.moved),
        "lost": list(done.lost),
        "why_not": list(done.why_not),
        "plan": write_plan(done.plan) if done.plan else None,
    }


def _ready() -> None:
    if not is_compiled():
        raise InvalidProblem(
            "The planner is still being made ready. Build the week once, then ask again."
        )


def _sound(problem: Problem, raw: dict[str, Any]) -> Plan:
    """Return a plan that keeps every rule, priced anew."""
    try:
        plan = read_plan(raw | {"bound": None})
    except InvalidPlan as error:
        raise InvalidProblem(str(error)) from error
    if not unknown_names(problem, plan):
        plan = replace(plan, cost=cost(problem, plan))
    faults = judge(problem, plan)
    if faults:
        raise InvalidProblem(
            f"The plan itself breaks a rule, so build the week again: {faults[0]}"
        )
    return plan


def _row(row: Moved) -> dict[str, Any]:
    return {
        "day": row.day,
        "cents": row.cents if row.plan else None,
        "lost": list(row.lost),
        "why_not": row.why_not,
        "plan": write_plan(row.plan) if row.plan else None,
    }


def main() -> int:
    """Answer one question; return the exit status."""
    try:
        found = answer(json.load(sys.stdin))
    except InvalidProblem as error:
        sys.stderr.write(f"{error}\n")
        return 2
    json.dump(found, sys.stdout)
    return 0


if __name__ == "__main__":
    sys.exit(main())
