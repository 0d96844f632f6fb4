"""What a draft costs more than the week that stands, part by part, by one and the same problem."""

from collections.abc import Mapping
from typing import Any

from dispatch.planner.cost import cost
from dispatch.planner.plan import InvalidPlan, read_plan
from dispatch.planner.problem import InvalidProblem
from dispatch.planner.read import read_problem
from dispatch.records.models import WeekPlan

Row = Mapping[str, Any]
PARTS = {
    "wages": "wages",
    "vans": "vans",
    "late": "being late",
    "finish": "finishing later",
    "risk": "little time under the sky",
    "dropped": "work left out",
}


def stages(van_days: Any) -> set[str]:  # noqa: ANN401 - rows of JSON
    """The stages that van-days of a plan visit."""
    stops = (stop for row in van_days for stop in row["stops"])
    return {stop["stage"] for stop in stops if stop["do"] == "visit"}


def cents(draft: WeekPlan, standing: WeekPlan) -> dict[str, int] | None:
    """The draft's cost less that of the standing week by the same problem, part by part; what telling weighs left out."""
    try:
        problem = read_problem(draft.problem)
        before = cost(problem, read_plan(_kept(draft, standing)))
        after = cost(problem, read_plan(draft.plan))
    except (InvalidPlan, InvalidProblem, KeyError, TypeError):
        return None
    return {
        said: after[part] - before[part]
        for part, said in PARTS.items()
        if after[part] != before[part]
    }


def _kept(draft: WeekPlan, standing: WeekPlan) -> dict[str, Any]:
    """The standing week as a plan of the draft's problem: what has left as it went, the rest as it stands."""
    frozen = {(row["van"], row["day"]): row for row in draft.problem.get("frozen", ())}
    gone, known = stages(frozen.values()), {s["id"] for s in draft.problem["stages"]}
    rows = []
    for row in standing.plan["van_days"]:
        held = frozen.pop((row["van"], row["day"]), None)
        stops = [
            stop
            for stop in row["stops"]
            if stop["do"] == "tow" or stop["stage"] in known - gone
        ]
        if held is not None and held.get("open"):
            later = [s for s in stops if s["start"] >= draft.problem["now"]]
            rows.append(
                row | {"depart": held["depart"], "stops": [*held["stops"], *later]}
            )
        elif held is not None:
            rows.append(held)
        elif stops:
            rows.append(row | {"stops": stops})
    rows += [row for row in frozen.values() if not row.get("open")]
    visited = stages(rows)
    chosen = draft.plan["chosen"] | standing.plan["chosen"]
    return {
        "format": "week-plan/2",
        "van_days": rows,
        "chosen": {job: chosen[job] for job in draft.plan["chosen"]},
        "unplaced": [
            {"stage": row["id"], "code": "no-room", "why": "-"}
            for row in draft.problem["stages"]
            if row["id"] not in visited
            and (row["variant"] is None or chosen.get(row["job"]) == row["variant"])
        ],
        "cost": draft.plan["cost"],
        "bound": None,
    }
