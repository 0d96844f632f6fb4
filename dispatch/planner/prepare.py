"""`python -m dispatch.planner.prepare`: compile the search once, so that nobody waits for it later."""

import sys
from typing import Any

from dispatch.planner.core import calls
from dispatch.planner.core import jit as search
from dispatch.planner.floor import jit as floor
from dispatch.planner.read import read_problem

_DAY = 1440


def _small() -> dict[str, Any]:
    """Return a week of one day with a stage that is pinned and two that nobody can do."""
    duty = [[0, _DAY]]
    person = {"id": "one", "skills": {}, "driver": True, "duty": duty}
    person |= {"cents_per_hour": 1, "week_regular_min": _DAY, "not_alone": False}
    van = {"id": "van", "base": "shop", "seats": 1, "tows": False, "gear": []}
    van |= {"carries": {}, "duty": duty, "cents_per_day": 0, "cents_per_km": 0}
    pin = {"van": "van", "start": 600}
    beyond = [{"skill": "none", "level": 1, "count": 1}]
    return {
        "format": "week-problem/2",
        "days": [[0, _DAY]],
        "now": 0,
        "places": [{"id": "shop", "lat": 0.0, "lon": 0.0}],
        "drive_min": [[0]],
        "drive_m": [[0]],
        "people": [person],
        "apart": [],
        "vans": [van],
        "trailers": [],
        "boats": [{"id": "boat"}],
        "jobs": [_job("pinned"), _job("never")],
        "stages": [
            _stage("pinned", "pinned", pinned=pin),
            _stage("never", "never", needs=beyond),
            _stage("spare", "pinned", needs=beyond, extra=True),
        ],
        "break": None,
        "standing": None,
        "frozen": [],
    }


def _job(name: str) -> dict[str, Any]:
    costs = ("late_cents_per_hour", "finish_cents_per_hour", "unfinished_cents")
    row: dict[str, Any] = {"id": name, "boat": "boat", "promise": None, "variants": []}
    return row | dict.fromkeys(costs, 1)


def _stage(name: str, job: str, **more: object) -> dict[str, Any]:
    none = ("needs", "barred", "gear", "risk", "trailers", "after")
    row: dict[str, Any] = {"id": name, "job": job, "variant": None, "extra": False}
    row |= {"exposed": False, "place": "shop", "minutes": {"1": 60}, "supplies": {}}
    row |= {"windows": [[0, _DAY]], "pausable": True, "hold_min": 0}
    row |= {"drop_cents": 1, "pinned": None}
    return row | {key: [] for key in none} | more


def is_prepared() -> bool:
    """Whether nobody will wait for a compiler."""
    return search.is_compiled() and floor.is_compiled()


def prepare() -> None:
    """Compile every function of the search and of the floor, unless that was done before."""
    if not search.is_compiled():
        calls.compile_all()
    if not floor.is_compiled():
        from dispatch.planner.solve.floor import Floor  # noqa: PLC0415 - loads the compiler

        Floor(read_problem(_small())).improve(3600.0)
        floor.keep_only_this()


if __name__ == "__main__":
    prepare()
    sys.exit(0)
