"""Weeks for the planner's tests: made by the outside maker, judged by the outside judge."""

import copy
import importlib.util
import json
from functools import cache
from pathlib import Path
from types import ModuleType

from dispatch.planner.build import Build, Effort
from dispatch.planner.plan import write_plan
from dispatch.planner.read import read_problem
from dispatch.planner.solve.search import Start

TESTS = Path(__file__).parent.parent
OUTSIDE = TESTS / "bench" / "outside"
SAVED = TESTS.parent / "fixtures" / "weeks"
DAY = 1440


@cache
def outside(name: str) -> ModuleType:
    """Import one of the outside programs from its file, as it stands."""
    spec = importlib.util.spec_from_file_location(name, OUTSIDE / f"{name}.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def made(size: str, seed: int) -> dict:
    """Return a week problem of the outside maker."""
    maker = outside("make_week")
    plain = size.rstrip("+")
    dims = maker.SIZES.get(plain) or tuple(int(x) for x in plain.split("x"))
    return json.loads(json.dumps(maker.make(*dims, str(seed), rich=size.endswith("+"))))


def saved(name: str) -> tuple[dict, dict]:
    """Return a saved problem and its plan."""
    parts = (SAVED / f"{name}.{part}.json" for part in ("problem", "plan"))
    problem, plan = (json.loads(p.read_text()) for p in parts)
    return problem, plan


def faults(problem: dict, plan: dict) -> list[str]:
    """Return what the outside judge finds."""
    check = outside("check_week")
    try:
        return check.Check(problem, plan).run()[0]
    except check.Unreadable as error:
        return [f"unreadable: {error}"]


def planned(
    problem: dict, *, steps: int, seed: int = 1, seconds: float = 100.0
) -> dict:
    """Plan a week in this process; the steps are the limit."""
    effort = Effort(seconds=seconds, seed=seed, steps=steps)
    build = Build(read_problem(problem), effort, lambda _: None)
    return json.loads(json.dumps(write_plan(build.run(Start()))))


def tiny(**changes: object) -> dict:
    """Return a week of one day, one van, two people and no stages."""
    day = [0, DAY]
    person = {
        "skills": {"prep": 2},
        "driver": True,
        "duty": [[420, 1020]],
        "cents_per_hour": 3000,
    }
    rest = {"week_regular_min": 2400, "not_alone": False}
    van = {
        "id": "V",
        "base": "yard",
        "seats": 2,
        "tows": True,
        "gear": [],
        "carries": {},
    }
    problem = {
        "format": "week-problem/2",
        "days": [day],
        "now": 0,
        "places": [
            {"id": p, "lat": 41.5, "lon": -71.4} for p in ("yard", "quay", "dock")
        ],
        "drive_min": [[0, 20, 30], [20, 0, 15], [30, 15, 0]],
        "drive_m": [[0, 15000, 22000], [15000, 0, 9000], [22000, 9000, 0]],
        "people": [{"id": p, **person, **rest} for p in ("Ann", "Bob")],
        "apart": [],
        "vans": [{**van, "duty": [day], "cents_per_day": 4000, "cents_per_km": 50}],
        "trailers": [],
        "boats": [],
        "jobs": [],
        "stages": [],
        "break": {"minutes": 30, "after_min": 360, "windows": [[660, 840]]},
        "standing": None,
        "frozen": [],
    }
    return copy.deepcopy(problem | changes)


def with_stage(
    problem: dict, name: str, where: str, sizes: dict, **changes: object
) -> dict:
    """Return the problem with one more job of one stage on a boat of its own."""
    job = {
        "id": name,
        "boat": name,
        "promise": None,
        "late_cents_per_hour": 0,
        "variants": [],
    }
    job |= {"finish_cents_per_hour": 5, "unfinished_cents": 50000}
    stage = {
        "id": f"{name}.all",
        "job": name,
        "variant": None,
        "extra": False,
        "exposed": False,
        "place": where,
        "minutes": sizes,
        "needs": [],
        "barred": [],
        "gear": [],
        "supplies": {},
        "windows": [[420, 1020]],
        "risk": [],
        "pausable": True,
        "trailers": [],
        "after": [],
        "hold_min": 0,
        "drop_cents": 500,
        "pinned": None,
    }
    problem = copy.deepcopy(problem)
    problem["jobs"].append(job)
    problem["stages"].append(stage | changes)
    return problem
