"""What is made fast, on the board: a knot where the plan keeps it, a snag where it does not; an old forecast is marked."""

import pytest

from dispatch.actions import by_hand, pins, planning, show_board, snapshot
from dispatch.records.models import Outfit, Pin, Van, VanOff, Week
from tests.actions import plans
from tests.actions.test_moves import placed
from tests.web import people

pytestmark = pytest.mark.django_db


@pytest.fixture
def fast():
    plans.wash(plans.outfit())
    plan = placed()
    pins.make_fast(plan, "j1.wash", by=people.owner())
    return plan


def hands(plan):
    (row,) = show_board.board(plan).boats
    return next(one for one in row.segments if one.kind == "hands")


def pinned(plan):
    return [
        s.sentence for s in show_board.board(plan).snags if "made fast" in s.sentence
    ]


def test_it_is_marked_where_the_plan_keeps_it(fast):
    assert hands(fast).fast
    assert "; made fast" in hands(fast).words
    assert pinned(fast) == []


def test_a_plan_that_has_it_elsewhere_says_so(fast):
    stop = fast.plan["van_days"][0]["stops"][0]
    stop["start"], stop["end"] = stop["start"] + 60, stop["end"] + 60
    assert not hands(fast).fast
    assert pinned(fast) == [
        "“Maintenance wash” is made fast Tue 09:00 with Knot, and this plan has it Tue 10:00."
    ]
    fast.plan["van_days"] = []
    assert pinned(fast)[0].endswith("and this plan has no visit for it.")


def test_an_hour_gone_by_is_never_cast_off_silently(fast):
    Outfit.objects.update(stands_at=plans.at(25, "12:00"))
    (line,) = pinned(fast)
    assert line.endswith("that hour has gone by and nobody has started it.")
    (row,) = snapshot.of(fast.week)["stages"]
    assert row["pinned"] is None


def test_a_pin_that_cannot_be_kept_is_told_in_names(fast):
    VanOff.objects.create(van=Van.objects.get(), on=plans.at(25, "09:00").date())
    asked = planning.ask(fast.week.starts_on, by=None, seconds=1)
    planning.build(asked)
    asked.refresh_from_db()
    assert asked.state == "failed"
    assert "“Maintenance wash” is pinned to van Knot Tue 09:00" in asked.fault
    assert asked.fault.endswith("but that van is off the road that day.")


def test_other_visits_still_move_around_it(fast):
    answer = by_hand.try_put(fast, "j1.wash", Van.objects.get(), plans.at(25, "11:00"))
    assert answer.why_not == ("It is pinned; take the pin out first.",)


def test_an_old_forecast_is_marked_as_such(fast):
    assert not show_board.board(fast).sky.stale
    Outfit.objects.update(stands_at=plans.at(24, "07:00"))
    assert show_board.board(fast).sky.stale


def test_a_coat_made_fast_has_room_for_its_waits_where_the_sky_forbids_it():
    job = plans.coat(plans.outfit())
    stage = job.stages.get(key="port-as-she-lies")
    Pin.objects.create(stage=stage, van=Van.objects.get(), start=plans.at(25, "13:00"))
    for forbidden in stage.vetoes.all()[:1]:
        forbidden.start, forbidden.end = plans.at(24, "00:00"), plans.at(30, "00:00")
        forbidden.edge = "during"
        forbidden.save()
    week, _ = Week.objects.get_or_create(starts_on=plans.MONDAY)
    rows = {row["id"]: row for row in snapshot.of(week)["stages"]}
    coat = rows["j1.port-as-she-lies"]
    start = coat["pinned"]["start"]
    assert [start, start + max(coat["minutes"].values())] in coat["windows"]
    assert coat["minutes"] != stage.minutes
