"""What has left, as a week problem has it: reports put right by the drives, breaks found, covers kept over wet film."""

from datetime import timedelta

import pytest

from dispatch.actions import begun, snapshot, timeline
from dispatch.actions.snapshot_breaks import rest_of, taken
from dispatch.actions.snapshot_trailers import over_film, settled
from dispatch.records.models import (
    Equipment,
    Hold,
    Outfit,
    Place,
    Standing,
    Tow,
    Visit,
    Week,
)
from tests.actions import posted
from tests.actions.posted import at

RULE = {"minutes": 30, "after_min": 360, "windows": [[660, 840]]}
VANS = [{"id": "knot", "base": "s0"}]


def day(stops, depart=420, back=960):
    """A van-day from a shop ten minutes from everywhere."""
    return {"van": "knot", "day": 0, "depart": depart, "back": back, "stops": stops}


def stop(start, end):
    return {"do": "visit", "start": start, "end": end, "at": ("s5", "s5")}


def drive(origin, to):
    return 0 if origin == to else 10


def problem(**changes):
    return {"break": RULE, "vans": VANS, "now": 700} | changes


def test_a_break_stays_where_it_was_planned():
    row = day([stop(430, 700), stop(760, 900)])
    assert rest_of(problem(), row, drive, [710, 740]) == [710, 740]


def test_a_break_that_work_took_is_found_elsewhere():
    row = day([stop(430, 745), stop(780, 900)])
    assert rest_of(problem(), row, drive, [710, 740]) == [710, 740]
    cut = day([stop(430, 725), stop(760, 900)])
    assert rest_of(problem(), cut, drive, [710, 740]) == [660, 690]


def test_a_short_day_has_no_break():
    assert (
        rest_of(problem(), day([stop(430, 700)], back=760), drive, [660, 690]) is None
    )


def test_a_break_to_come_is_left_to_the_planner():
    row = day([stop(430, 650)])
    assert taken(problem(now=655), row, drive, [660, 690]) is None
    assert taken(problem(now=700), row, drive, [660, 690]) == [660, 690]


def test_a_break_inside_the_visit_under_way_is_kept():
    row = day([stop(430, 800)])
    assert taken(problem(now=655), row, drive, [700, 730]) == [700, 730]


@pytest.fixture
def sprayed(db):
    """A posted Monday: the starboard side is sprayed from 10:00 to 11:25 behind the spray trailer."""
    job = posted.sprayed()
    rook = posted.person("rook", "prep")
    van_day = posted.van_day(rook)
    stage = job.stages.filter(family="spray", equipment__isnull=False).first()
    stage.equipment = [{"kind": "canopy", "until": "rain-safe"}]
    stage.save()
    return posted.visit(van_day, stage, "10:00", 85)


def done(visit, ended="11:25"):
    stage = visit.stage
    stage.state, stage.started_at, stage.ended_at = "done", at("10:00"), at(ended)
    stage.save()
    Hold.objects.create(
        stage=stage,
        kind="rain-safe",
        planned=False,
        start=at(ended),
        end=at("16:00"),
    )
    Outfit.objects.update(stands_at=at("12:00"))


def canopy(place, since="07:00"):
    loft = Equipment.objects.create(key="loft", name="Loft", kind="canopy", towed=False)
    Standing.objects.create(
        equipment=loft, place=Place.objects.get(key=place), since=at(since)
    )
    return loft


def rows():
    line = timeline.of(Week.objects.get())
    trailers = [
        {"id": one.key, "kind": one.kind, "place": "s0"}
        for one in Equipment.objects.all()
    ]
    return {"trailers": trailers, "now": line.minute(at("12:00"))}, line


def test_a_canopy_stays_over_film_until_that_is_rain_safe(sprayed):
    """A22: boat setting; the tent is free only once the film is rain-safe, the crew at once."""
    done(sprayed)
    canopy("s5")
    found, line = rows()
    (left,) = begun.of(Week.objects.get())
    given = settled(found, line, [left])
    (row,) = over_film(given, left.stays[0], {"start": 600, "end": 685})
    assert row == {"kind": "canopy", "stays_min": 275}
    assert given.stands["loft"][1] == "s5"


def test_a_canopy_that_is_elsewhere_holds_nothing(sprayed):
    done(sprayed)
    canopy("s0")
    found, line = rows()
    (left,) = begun.of(Week.objects.get())
    given = settled(found, line, [left])
    assert over_film(given, left.stays[0], {"start": 600, "end": 685}) == []


def test_moves_that_do_not_follow_one_another_do_not_count(sprayed):
    done(sprayed)
    loft = Equipment.objects.create(key="loft", name="Loft", kind="canopy", towed=False)
    Tow.objects.create(
        van_day=sprayed.van_day,
        equipment=loft,
        origin=Place.objects.get(key="s5"),
        destination=Place.objects.get(key="s0"),
        start=at("08:00"),
        end=at("08:30"),
    )
    found, line = rows()
    given = settled(found, line, begun.of(Week.objects.get()))
    assert (given.moves, given.stands["loft"][1]) == (frozenset(), "s0")


def test_what_is_under_way_takes_as_long_as_planned_and_is_not_over_before_now(sprayed):
    stage = sprayed.stage
    stage.state, stage.started_at = "under-way", at("10:20")
    stage.save()
    span = begun.takes(Visit.objects.get(), at("11:00"))
    assert (span.start, span.end) == (at("10:20"), at("11:45"))
    late = begun.takes(Visit.objects.get(), at("13:00"))
    assert late.end == at("13:00") + timedelta(minutes=5)


def test_a_week_in_which_nothing_has_left_is_the_same_problem(sprayed):
    week = Week.objects.get()
    Outfit.objects.update(stands_at=at("05:00"))
    posted.person("teague", "prep", "mask", "lead", "spray-1")
    assert snapshot.of(week)["frozen"] == []
