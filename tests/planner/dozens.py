"""Weeks of one day of a dozen minutes or so, small enough for every plan to be tried."""

import copy

from tests.planner.weeks import tiny, with_stage

DUTY = [[0, 14]]


def dozen(**changes: object) -> dict:
    """Return a day of fourteen minutes: Ann at 50 cents a minute, Bob at 80, a van, drives of a minute or two."""
    week = tiny(days=[[0, 24]], drive_min=[[0, 1, 2], [1, 0, 1], [2, 1, 0]])
    for row in week["people"] + week["vans"]:
        row["duty"] = copy.deepcopy(DUTY)
    week["people"][1]["cents_per_hour"] = 4800
    week["vans"][0]["cents_per_day"] = 400
    week["break"] = None
    return week | copy.deepcopy(changes)


def job(week: dict, key: str, where: str, sizes: dict, **changes: object) -> dict:
    """Return the week with one more job of one stage, worth a cent a minute to have done."""
    week = with_stage(week, key, where, sizes, **({"windows": DUTY} | changes))
    week["jobs"][-1] |= {"finish_cents_per_hour": 60, "unfinished_cents": 20000}
    return week


def one_job(
    week: dict | None = None, sizes: dict | None = None, **changes: object
) -> dict:
    """Return a day with one job at the quay."""
    return job(week or dozen(), "A", "quay", sizes or {"1": 4}, **changes)


def two_jobs(
    week: dict | None = None, first: dict | None = None, **changes: object
) -> dict:
    """Return a day with two short jobs at the quay; the changes are the second's."""
    week = job(week or dozen(), "A", "quay", {"1": 3}, **(first or {}))
    return job(week, "B", "quay", {"1": 3}, **changes)


def after(stage: str, **changes: object) -> list[dict]:
    """Return a wait for one stage."""
    wait = {"stage": stage, "min_lag": 0, "max_lag": None, "same_van_day": False}
    return [wait | changes]


def with_person(week: dict, who: int, **changes: object) -> dict:
    """Return the week with one person changed."""
    week = copy.deepcopy(week)
    week["people"][who] |= changes
    return week


def with_van(week: dict, **changes: object) -> dict:
    """Return the week with its first van changed."""
    week = copy.deepcopy(week)
    week["vans"][0] |= changes
    return week


def second_van(week: dict, **changes: object) -> dict:
    """Return the week with one more van, like the first but for the changes."""
    week = copy.deepcopy(week)
    week["vans"].append(week["vans"][0] | {"id": "W"} | changes)
    return week


def tent(week: dict, place: str = "yard", **changes: object) -> dict:
    """Return the week with a tent that stands at a place."""
    row = {"id": "T", "kind": "tent", "place": place, "towed": True}
    row |= {"hook_min": 1, "unhook_min": 1, "factor_pct": 100}
    return week | {"trailers": [row | changes]}


def needs_tent(stays_min: object = 0) -> dict:
    """Return a stage's change that asks for a tent."""
    return {"trailers": [{"kind": "tent", "stays_min": stays_min}]}
