"""What is frozen, as the floor sees it: visits that stand, minutes worked, money spent."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from dispatch.planner.floor.pieces import moved
from dispatch.planner.problem import Problem, lag_minutes


@dataclass(frozen=True, kw_only=True, slots=True)
class Visited:
    """A visit that stands: its times, and until when it is held."""

    stage: str
    day: int
    start: int
    end: int
    held: int


def visited(problem: Problem) -> list[Visited]:
    """Return the visits of all frozen van-days."""
    found = []
    for row in problem.frozen:
        for stop in row["stops"]:
            if stop["do"] == "visit":
                end = stop["end"]
                hold = lag_minutes(problem.stages[stop["stage"]].hold_min, end) or 0
                found.append(
                    Visited(
                        stage=stop["stage"],
                        day=row["day"],
                        start=stop["start"],
                        end=end,
                        held=end + hold,
                    )
                )
    return found


def worked(problem: Problem) -> dict[str, int]:
    """Return the paid minutes of frozen van-days that are over, by person."""
    found: dict[str, int] = defaultdict(int)
    for row in problem.frozen:
        if not row.get("open"):
            rest = row["break"] or (0, 0)
            for who in row["team"]:
                found[who] += row["back"] - row["depart"] - (rest[1] - rest[0])
    return found


def spent(problem: Problem) -> float:
    """Return cents that nothing changes any more: wages and vans of what is over, risk, what was moved."""
    total = 0.0
    for who, minutes in worked(problem).items():
        total += minutes * problem.people[who].cents_per_hour / 60
    for row in problem.frozen:
        van = problem.vans[row["van"]]
        home = not row.get("open")
        metres = _metres(problem, row, van.base, home=home)
        total += van.cents_per_km * metres / 1000
        total += van.cents_per_day if home else 0
    return total + sum(_visit_cents(problem, v) for v in visited(problem))


def _metres(problem: Problem, row: Mapping[str, Any], base: int, *, home: bool) -> int:
    at, total = base, 0
    for stop in row["stops"]:
        if stop["do"] == "visit":
            legs = [problem.stages[stop["stage"]].place]
        else:
            legs = [problem.places.index(stop[k]) for k in ("from", "to")]
        for to in legs:
            total += problem.drive_m[at][to]
            at = to
    return total + (problem.drive_m[at][base] if home else 0)


def _visit_cents(problem: Problem, visit: Visited) -> float:
    stage = problem.stages[visit.stage]
    risk = sum(c for s, e, c in stage.risk if s <= visit.start < e)
    return risk + moved(problem, stage, visit.day, visit.start, visit.start)
