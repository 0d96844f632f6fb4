"""What holds a visit and what moving it costs, in names and days of the week; moving it makes a draft."""

from datetime import date, datetime
from zoneinfo import ZoneInfo

import pytest

from dispatch.actions import by_hand_rows, clock, moves, planning
from dispatch.actions.errors import Refused, Stranger
from dispatch.records.models import HistoryEntry, Visit, WeekPlan
from tests.actions import plans
from tests.web import people

pytestmark = pytest.mark.django_db
TUESDAY, WEDNESDAY, SUNDAY = (date(2027, 5, day) for day in (25, 26, 30))


@pytest.fixture
def place():
    return plans.outfit()


@pytest.fixture
def washed(place):
    """Return a draft that washes a boat on Tuesday morning."""
    plans.wash(place)
    return placed()


def placed(**changes):
    plan = plans.draft([])
    stage = next(s for s in plan.problem["stages"] if s["id"] == "j1.wash")
    minutes = stage["minutes"]["2"]
    opens = next(s for s, e in stage["windows"] if s > 1440 and e - s >= minutes)
    start = max(opens, 1440 + 9 * 60)
    stop = {"do": "visit", "stage": "j1.wash", "start": start, "end": start + minutes}
    row = {"van": "knot", "day": 1, "team": ["rook", "teague"], "break": None}
    row |= {"depart": start, "back": start + minutes, "stops": [stop]}
    plan.plan |= {"van_days": [row], "chosen": {}}
    for name, value in changes.items():
        setattr(plan, name, value)
    plan.save()
    return plan


def test_what_holds_a_visit_is_told_in_names_and_moments(washed):
    held = moves.holds(washed, "j1.wash")
    assert held.on == TUESDAY
    assert held.span.start.astimezone(ZoneInfo("America/New_York")).hour >= 9
    told = [bound.sentence for bound in (*held.before, *held.after)]
    assert any("Tue 07:00" in line for line in told)
    assert not any("day 2" in line or "knot" in line for line in told)
    assert all(bound.minutes >= 0 for bound in held.before)


def test_a_stage_without_a_visit_is_held_by_nothing(washed):
    washed.plan |= {"van_days": []}
    assert moves.holds(washed, "j1.wash") is None


def test_a_week_that_is_not_built_has_nothing_to_tell(washed):
    with pytest.raises(Refused, match="Build it first"):
        moves.holds(WeekPlan(week=washed.week), "j1.wash")


def test_every_day_has_a_price_or_a_reason(washed):
    found = {price.on: price for price in moves.prices(washed, "j1.wash")}
    assert len(found) == 7
    assert found[TUESDAY].why_not == "It is on Tuesday already."
    assert found[WEDNESDAY].plan is not None
    assert isinstance(found[WEDNESDAY].cents, int)
    assert found[SUNDAY].plan is None
    assert found[SUNDAY].why_not


def test_a_day_gone_by_is_not_offered(washed, monkeypatch):
    noon = datetime(2027, 5, 26, 12, 0, tzinfo=ZoneInfo("America/New_York"))
    monkeypatch.setattr(clock, "now", lambda: noon)
    found = moves.prices(washed, "j1.wash")
    assert found[0].on == WEDNESDAY
    assert {price.why_not for price in found} == {"It is done or under way."}
    with pytest.raises(Refused, match="has begun"):
        moves.take(washed, "j1.wash", WEDNESDAY, by=plans.owner())


def test_moving_makes_a_draft_that_can_be_posted(washed):
    owner = plans.owner()
    draft = moves.take(washed, "j1.wash", WEDNESDAY, by=owner)
    assert draft.state == "draft"
    assert moves.holds(draft, "j1.wash").on == WEDNESDAY
    assert WeekPlan.objects.count() == 2
    line = HistoryEntry.objects.get(verb="by-hand")
    assert line.sentence == f"In a draft: {draft.by_hand.removeprefix('By hand: ')}"
    assert draft.by_hand.endswith(" on Wednesday 26 May.")
    planning.post(draft, by=owner)
    assert Visit.objects.get().start.date() == WEDNESDAY


def test_a_move_is_taken_back_like_any_change_by_hand(washed):
    owner = plans.owner()
    draft = moves.take(washed, "j1.wash", WEDNESDAY, by=owner)
    assert by_hand_rows.undo(draft, by=owner) == washed


def test_a_standing_week_is_moved_in_a_draft_of_its_version(washed):
    owner = plans.owner()
    planning.post(washed, by=owner)
    washed.refresh_from_db()
    draft = moves.take(washed, "j1.wash", WEDNESDAY, by=owner)
    assert draft.on_version == 1
    assert Visit.objects.get().start.date() == TUESDAY
    planning.post(draft, by=owner)
    assert Visit.objects.get().start.date() == WEDNESDAY


def test_only_the_owner_moves_and_nothing_is_left_behind_when_refused(washed):
    with pytest.raises(Stranger):
        moves.take(washed, "j1.wash", WEDNESDAY, by=people.crew())
    owner = plans.owner()
    with pytest.raises(Refused, match="already"):
        moves.take(washed, "j1.wash", TUESDAY, by=owner)
    with pytest.raises(Refused, match="no day of this week"):
        moves.take(washed, "j1.wash", date(2027, 6, 2), by=owner)
    assert WeekPlan.objects.count() == 1
    assert not HistoryEntry.objects.filter(verb="by-hand").exists()


def test_a_plan_that_breaks_a_rule_is_not_priced(washed):
    washed.plan["van_days"][0]["back"] -= 30
    with pytest.raises(Refused, match="breaks a rule"):
        moves.prices(washed, "j1.wash")


def test_a_planner_that_does_not_answer_is_given_up(washed, monkeypatch):
    monkeypatch.setattr(moves, "_LONGEST_S", 0.01)
    with pytest.raises(Refused, match="did not answer in time"):
        moves.prices(washed, "j1.wash")
