"""A boat that may be turned on her trailer: the heading, whether it is worth it, what it costs."""

from datetime import timedelta

import pytest

from dispatch.actions import book, snapshot, turns, weather
from dispatch.records.models import (
    Boat,
    DueWork,
    HistoryEntry,
    JobKind,
    Outfit,
    Stage,
    Week,
)
from dispatch.trade.spans import Span
from tests.actions import laid, plans, shop

pytestmark = pytest.mark.django_db
ROOM_M = 12.2


@laid.from_memory
def skiff(heading: float | None = 265, **changes: object):
    """An 18-foot skiff on her trailer, taken for a coat, with room to turn, in the demo's week."""
    place = plans.outfit()
    place.swing_room_m = changes.pop("swing_room_m", ROOM_M)
    place.save()
    given = {"on_trailer": True, "heading_deg": heading, "shape": "skiff"}
    boat = shop.boat(place, feet=18, **(given | changes))
    kind = JobKind.objects.get(key="spray-coat")
    return book.take_job(
        key="j1", boat=boat, kind=kind, sheet=shop.one_part(), grade=1, sides_only=True
    )


def friday() -> Span:
    start = plans.at(28, "00:00")
    return Span(start, start + timedelta(days=1))


def ways(week: Week) -> list[str]:
    return snapshot.of(week)["jobs"][0]["variants"]


def test_a_boat_that_heads_west_is_offered_turned_about_north_or_south():
    job = skiff()
    turned = job.stages.get(key="port-turned")
    assert abs((turned.heading_true_deg + 90) % 180 - 90) <= 25
    found = turns.of(job, friday())
    assert (found.lying.whole_days, found.turned.whole_days) == (0, 1)
    assert found.worth


def test_the_turn_costs_twenty_minutes_of_two_people():
    job = skiff()
    stage = job.stages.get(key="turn-turned")
    assert stage.minutes == {"2": 20}
    assert sum(step["labour_minutes"] for step in stage.steps) == 40
    found = turns.of(job, friday())
    assert (found.people, found.minutes) == (2, 20)


def test_the_crew_reads_the_heading_true_and_by_compass():
    job = skiff(turned_heading_deg=355)
    assert job.stages.get(key="turn-turned").name == (
        "Turn her on the trailer to 355° true (010° by compass)"
    )


def test_what_the_owner_gave_is_kept():
    job = skiff(turned_heading_deg=355)
    found = turns.of(job, friday())
    assert found.given
    assert found.turned.heading_true_deg == 355
    headings = job.stages.filter(variant="turned").values_list("heading_true_deg")
    assert {row[0] for row in headings} == {355}


@pytest.mark.parametrize(
    "changes", [{"on_trailer": False}, {"swing_room_m": 8.0}, {"swing_room_m": None}]
)
def test_on_stands_or_without_room_she_is_not_turned(changes):
    job = skiff(**changes)
    assert not job.stages.filter(variant="turned").exists()
    assert turns.of(job, friday()) is None


def test_both_sides_wait_for_the_turn_and_the_turn_for_the_masks():
    job = skiff()
    for key in ("port-turned", "starboard-turned"):
        before = job.stages.get(key=key).links.values_list("before__key", flat=True)
        assert set(before) == {"mask", "turn-turned"}
    assert job.stages.get(key="turn-turned").links.get().before.key == "mask"


def judged(job) -> Week:
    weather.take_in(job.boat.place)
    for stage in Stage.objects.filter(job=job):
        weather.judge(stage)
    return Week.objects.create(starts_on=plans.MONDAY)


def test_the_week_problem_offers_the_turned_way_where_it_saves_a_day():
    week = judged(skiff())
    assert "turned" in ways(week)
    rows = {row["id"]: row for row in snapshot.of(week)["stages"]}
    assert rows["j1.turn-turned"]["minutes"] == {"2": 20}
    assert rows["j1.port-turned"]["windows"]


def test_the_week_problem_leaves_out_a_turn_that_saves_nothing():
    week = judged(skiff(heading=0))
    assert "turned" not in ways(week)
    assert not [row for row in snapshot.of(week)["stages"] if "turn" in row["id"]]


def test_a_turn_that_is_begun_stays_in_the_problem():
    job = skiff(heading=0)
    job.stages.filter(key="turn-turned").update(state=Stage.State.UNDER_WAY)
    assert "turned" in ways(judged(job))


def test_a_new_heading_is_written_down_and_judged():
    job = skiff()
    assert HistoryEntry.objects.filter(verb="aim-turn").count() == 1
    Stage.objects.filter(job=job, variant="turned").update(heading_true_deg=100)
    DueWork.objects.all().delete()
    turns.aim(job)
    row = HistoryEntry.objects.filter(verb="aim-turn").first()
    assert row.actor == "planner"
    assert "both sides can be coated on" in row.sentence
    assert DueWork.objects.filter(verb="judge-stage").count() == 3


def test_nothing_is_aimed_anew_while_the_heading_holds_or_once_she_was_turned():
    job = skiff()
    turns.aim(job)
    assert HistoryEntry.objects.filter(verb="aim-turn").count() == 1
    Stage.objects.filter(job=job, variant="turned").update(heading_true_deg=100)
    job.stages.filter(key="turn-turned").update(state=Stage.State.UNDER_WAY)
    turns.aim(job)
    assert job.stages.get(key="port-turned").heading_true_deg == 100


def test_a_heading_nearly_as_good_as_the_best_is_kept_from_one_day_to_the_next():
    job = skiff()
    best = job.stages.get(key="port-turned").heading_true_deg
    Stage.objects.filter(job=job, variant="turned").update(heading_true_deg=best + 4)
    turns.aim(job)
    found = turns.of(job, turns.ahead())
    assert found.turned.heading_true_deg == best + 4
    Stage.objects.filter(job=job, variant="turned").update(heading_true_deg=best + 60)
    turns.aim(job)
    assert job.stages.get(key="port-turned").heading_true_deg == best


def test_once_she_was_turned_she_lies_by_her_new_heading():
    job = skiff(turned_heading_deg=355)
    Outfit.objects.update(stands_at=plans.at(24, "21:30"))
    turn = job.stages.get(key="turn-turned")
    book.mark_done(turn, started_at=None, ended_at=plans.at(24, "21:00"))
    boat = Boat.objects.get()
    assert boat.heading_read_on == plans.at(24, "00:00").date()
    assert (boat.heading_deg, boat.heading_reference) == (355, "true")
