"""The demo's week whole: fourteen boats and eight people laid in a minute, what is made fast kept, what is left out told.

Every plan is judged by ``check_week.py``, which shares no code with the house. Seconds are of two cores: those of
the search, which stops by the clock, and the work done beside it, so that they hold on a busy machine too.
"""

import os
from datetime import date, timedelta
from pathlib import Path

import pytest
from django.utils import timezone

from dispatch.actions import (
    due,
    house_rules,
    outlook,
    pins,
    planning,
    replanning,
    scenario,
    scenario_rows,
    show_board,
    snapshot_air,
    sweeping,
    weather,
)
from dispatch.records.models import (
    Account,
    Boat,
    DueWork,
    Outfit,
    Person,
    Visit,
    WeekPlan,
)
from tests.actions import plans
from tests.planner.weeks import faults

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(600)]
DEMO = Path(__file__).parents[2] / "fixtures" / "demo"
MONDAY = date(2027, 5, 24)
LAID_S, TRIMMED_S, CORES = 60, 10, 2
WHY = "The owner said so."


@pytest.fixture
def owner(settings) -> Account:
    """Load the demo, take in every place's sky, judge every stage; return its owner."""
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    entries = [one.name for one in scenario_rows.read(DEMO / "people.json")]
    scenario.load(DEMO, passwords={name: f"a long word for {name}" for name in entries})
    # Due before all that the loading left, so that each stage is judged once, by the sky that came.
    at = timezone.now() - timedelta(hours=1)
    for place in weather.places():
        due.put("take-in-forecast", place.key, due_at=at)
    sweeping.sweep()
    assert not DueWork.objects.filter(done_at=None).exists()
    assert not DueWork.objects.exclude(fault="").exists()
    return Account.objects.filter(role="owner").order_by("pk").first()


def cpu_s() -> float:
    """Return the seconds of work done so far, in this process and those it started and waited for."""
    told = os.times()
    return told.user + told.system + told.children_user + told.children_system


def built(plan: WeekPlan, most_s: float) -> WeekPlan:
    """Build it, in time and by the outside judge without a fault."""
    before = cpu_s()
    planning.build(plan)
    beside = max(0.0, cpu_s() - before - CORES * plan.seconds)
    assert beside + plan.seconds <= most_s
    plan.refresh_from_db()
    assert (plan.state, plan.fault) == ("draft", "")
    assert faults(plan.problem, plan.plan) == []
    return plan


def fast() -> dict[str, tuple[object, ...]]:
    rows = Visit.objects.filter(stage__pin__isnull=False)
    found = rows.values_list(
        "stage__key", "stage__job__key", "start", "van_day__van__key"
    )
    return {f"{job}.{key}": (start, van) for key, job, start, van in found}


def test_it_is_laid_in_a_minute_trimmed_in_ten_seconds_and_says_what_is_left_out(owner):
    assert (Boat.objects.count(), Person.objects.count()) == (14, 8)
    said = list(outlook.lines())
    assert sum(not line.startswith(" ") for line in said) == 14
    assert not any("not judged" in line for line in said)
    assert any("Spray starboard" in line and "Fri 15:" in line for line in said)
    plan = built(planning.ask(MONDAY, by=owner, seconds=10), LAID_S)
    asked = {need["kind"] for row in plan.problem["stages"] for need in row["trailers"]}
    apart = {kind for kind in asked if kind.startswith(snapshot_air.PREFIX)}
    assert asked - apart == {"canopy", "spray-trailer"}
    assert apart
    assert sum(bool(job["variants"]) for job in plan.problem["jobs"]) >= 5
    walls = [o for o in house_rules.objections(plan) if o.strength == "wall"]
    assert walls == []
    # Whatever is left out is told with what binds it.
    left = {row["stage"].partition(".")[0] for row in plan.plan["unplaced"]}
    board = show_board.board(plan)
    told = {row.job: row for row in board.left_out}
    assert set(told) <= left
    assert all(row.why for row in told.values())
    planning.post(plan, by=owner, why=WHY)
    # Three visits of Thursday on are made fast, and the rest planned anew on Tuesday morning.
    later = Visit.objects.filter(start__gte=plans.at(27, "00:00")).order_by("start")
    for visit in list(later)[:3]:
        pins.make_fast(plan, f"{visit.stage.job.key}.{visit.stage.key}", by=owner)
    before = fast()
    assert len(before) == 3
    Outfit.objects.update(stands_at=plans.at(25, "06:00"))
    rest = built(replanning.ask(plan.week, by=owner), TRIMMED_S)
    minute = {
        row["id"]: row["pinned"] for row in rest.problem["stages"] if row["pinned"]
    }
    assert set(minute) == set(before)
    planning.post(rest, by=owner, why=WHY)
    assert fast() == before
