"""The catalogue's weeks, as the snapshot really makes them, are planned without a broken rule."""

import copy
import time

import pytest
from django.db import transaction
from django.test import override_settings

from dispatch.actions import snapshot_air
from dispatch.actions.solving import solve
from tests.bench import catalogue_week
from tests.bench.standing import kept_pct
from tests.planner.weeks import faults, planned

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(300)]
QUICK = {"PASSWORD_HASHERS": ["django.contrib.auth.hashers.MD5PasswordHasher"]}


@pytest.fixture(scope="module")
def week(django_db_setup, django_db_blocker):
    """Return the problem of the twenty jobs, made once; the tables are left as they were."""
    with django_db_blocker.unblock(), transaction.atomic(), override_settings(**QUICK):
        catalogue_week.fill()
        found = catalogue_week.problem()
        transaction.set_rollback(True)
    return found


def finished(problem, plan):
    """Return the jobs of which nothing is left out but extras."""
    extras = {stage["id"] for stage in problem["stages"] if stage["extra"]}
    left = {row["stage"] for row in plan["unplaced"]} - extras
    return {job["id"] for job in problem["jobs"]} - {
        name.split(".")[0] for name in left
    }


@pytest.mark.bench
def test_a_week_of_twenty_jobs_from_the_catalogue_is_planned(week):
    assert len(week["jobs"]) == 20
    asked = {need["kind"] for stage in week["stages"] for need in stage["trailers"]}
    apart = {kind for kind in asked if kind.startswith(snapshot_air.PREFIX)}
    assert asked - apart == {"canopy", "spray-trailer"}
    assert apart
    assert sum(bool(job["variants"]) for job in week["jobs"]) >= 5
    plan = planned(week, steps=150)
    assert faults(week, plan) == []
    assert len(finished(week, plan)) >= 8


def fourteen(week):
    """Return the week of the demo's own fourteen boats."""
    problem = copy.deepcopy(week)
    for rows in ("jobs", "stages"):
        problem[rows] = [
            row
            for row in problem[rows]
            if row["id"].split(".")[0] not in catalogue_week.MORE
        ]
    return problem


def monday_noon(problem, plan):
    """Return the problem of Monday noon: what was begun is under way, the rest is told, one told van-day in three is pinned."""
    again, now = copy.deepcopy(problem), 720
    of_today = [vd for vd in plan["van_days"] if vd["day"] == 0]
    to_come = [vd for vd in plan["van_days"] if vd["day"] > 0]
    again["now"] = max(now, problem["now"])
    again["frozen"] = of_today
    told = [(vd, s) for vd in to_come for s in vd["stops"] if s["do"] == "visit"]
    again["standing"] = {
        "visits": [{"stage": s["stage"], "start": s["start"]} for _, s in told],
        "van_days": to_come,
        "day_cents": 4000,
        "shift_cents": 1000,
        "shift_cents_per_hour": 600,
        "tolerance_min": 30,
    }
    stages = {stage["id"]: stage for stage in again["stages"]}
    for vd, stop in told:
        if to_come.index(vd) % 3 == 0:
            pin = {"van": vd["van"], "start": stop["start"]}
            stages[stop["stage"]]["pinned"] = pin
    fast = {stage["job"] for stage in again["stages"] if stage["pinned"]}
    for stage in again["stages"]:
        if stage["job"] not in fast:
            # New rain on Wednesday afternoon.
            stage["windows"] = [
                [s, e] for s, e in stage["windows"] if not (s < 3900 and e > 3600)
            ]
    for stop in (s for vd in of_today for s in vd["stops"] if s["do"] == "visit"):
        stages[stop["stage"]]["windows"].append([stop["start"], stop["end"]])
    return again


@pytest.mark.bench
def test_fourteen_boats_are_planned_in_a_minute_and_trimmed_in_ten_seconds(week):
    problem, began = fourteen(week), time.monotonic()
    plan = solve(problem, seconds=6, workers=1, seed=1)
    assert time.monotonic() - began < 60
    assert faults(problem, plan) == []
    assert all(left["why"].endswith(".") for left in plan["unplaced"])
    again, began = monday_noon(problem, plan), time.monotonic()
    trimmed = solve(again, seconds=3, workers=1, seed=1)
    assert time.monotonic() - began < 10
    assert faults(again, trimmed) == []
    pins = {s["id"]: s["pinned"]["start"] for s in again["stages"] if s["pinned"]}
    starts = {
        stop["stage"]: stop["start"]
        for vd in trimmed["van_days"]
        for stop in vd["stops"]
        if stop["do"] == "visit"
    }
    assert pins
    assert {name: starts[name] for name in pins} == pins
    assert kept_pct(again, trimmed) >= 60
