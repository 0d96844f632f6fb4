"""Rules of the house on finished days. A break by the sixth hour and hoods in date: common practice; the rest assumed.

Fit tests are due every year: 29 CFR 1910.134(f)(2).
"""

from dataclasses import replace
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from dispatch.trade.shifts import Day, Hand, ShiftLimits, Stay, objections
from dispatch.trade.spans import Span
from dispatch.trade.words import Words

ZONE = ZoneInfo("America/New_York")
MONDAY = date(2027, 5, 24)
TEAM = ("Orla", "Teague")
HANDS = (
    Hand(name="Orla", years=53, fit_until=date(2027, 9, 30), has_hood=True),
    Hand(name="Teague", years=38, fit_until=date(2027, 9, 30), has_hood=True),
    Hand(name="Maeve", years=19),
    Hand(name="Dov", years=17),
)


def at(clock: str, on: date = MONDAY) -> datetime:
    hour, minute = map(int, clock.split(":"))
    return datetime(on.year, on.month, on.day, hour, minute, tzinfo=ZONE)


def span(start: str, end: str, on: date = MONDAY) -> Span:
    return Span(at(start, on), at(end, on))


def stay(start: str, end: str, **changes: object) -> Stay:
    given = {"boat": "Plain Jane", "place": "s1", "team": TEAM}
    return Stay(span=span(start, end), **(given | changes))


def day(
    *stays: Stay, out=("07:00", "15:00"), rest=("12:00", "12:30"), **changes
) -> Day:
    given = {
        "on": MONDAY,
        "zone": ZONE,
        "team": TEAM,
        "out": span(*out, changes.get("on", MONDAY)),
        "rest": span(*rest, changes.get("on", MONDAY)) if rest else None,
        "stays": stays,
    }
    return Day(**(given | changes))


def found(*days: Day, hands=HANDS, words="us") -> dict[str, str]:
    rows = objections(days, hands, ShiftLimits(), Words(system=words))
    return {one.code: one.sentence for one in rows}


def test_a_quiet_day_breaks_nothing():
    assert not found(day(stay("08:00", "11:00"), stay("13:00", "14:00")))


def test_four_and_a_half_hours_in_a_hood_are_enough():
    two_part = {"isocyanate": True, "sprays": True}
    most = day(stay("08:00", "10:15", **two_part), stay("12:30", "14:45", **two_part))
    assert not found(most)
    more = day(stay("08:00", "10:20", **two_part), stay("12:30", "14:45", **two_part))
    assert (
        "Teague is 4 h 35 in a hood on Mon 24 May, at most 4 h 30"
        in (found(more)["hood-hours"])
    )


def test_one_part_counts_for_no_hood():
    assert not found(day(stay("08:00", "14:00", sprays=True)))


@pytest.mark.parametrize(("leaves", "breaks"), [("07:00", False), ("06:00", True)])
def test_ten_hours_lie_between_two_days(leaves, breaks):
    tuesday = date(2027, 5, 25)
    late = day(out=("07:30", "21:00"), rest=("12:30", "15:00"))
    early = day(on=tuesday, out=(leaves, "12:00"), rest=None)
    said = found(late, early)
    assert ("start-gap" in said) is breaks
    if breaks:
        assert said["start-gap"] == (
            "Teague is back Mon 21:00 and leaves Tue 06:00: 9 h off, at least 10 h."
        )


def test_the_gap_is_elapsed_time_when_the_clocks_change():
    """Clocks go forward on 14 March 2027 at 02:00: from 21:00 to 07:00 are nine hours (15 USC 260a)."""
    saturday, sunday = date(2027, 3, 13), date(2027, 3, 14)
    late = day(on=saturday, out=("15:30", "21:00"), rest=None)
    assert "start-gap" in found(late, day(on=sunday, out=("07:00", "12:00"), rest=None))
    later = day(on=sunday, out=("08:00", "12:00"), rest=None)
    assert "start-gap" not in found(late, later)


def test_somebody_else_at_the_boat_while_two_part_is_laid_is_a_wall():
    wet = day(stay("08:00", "10:00", isocyanate=True))
    other = day(stay("10:20", "11:00", team=("Maeve",)), team=("Maeve",))
    rows = objections((wet, other), HANDS, ShiftLimits(), Words(system="us"))
    (one,) = rows
    assert (one.code, one.strength) == ("bystander", "wall")
    assert "Maeve is at the same boat then or within 30 min after" in one.sentence
    assert "25 ft" in one.sentence
    after = day(stay("10:30", "11:00", team=("Maeve",)), team=("Maeve",))
    assert not found(wet, after)


def test_at_another_boat_of_the_place_the_owner_says_whether_it_is_far_enough():
    wet = day(stay("08:00", "10:00", isocyanate=True))
    near = stay("09:00", "11:00", team=("Maeve",), boat="Harrier's Debt")
    rows = objections(
        (wet, day(near, team=("Maeve",))), HANDS, ShiftLimits(), Words(system="metric")
    )
    (one,) = rows
    assert (one.code, one.strength) == ("near-isocyanate", "owner")
    assert "7.6 m" in one.sentence
    elsewhere = replace(near, place="s3")
    assert not found(wet, day(elsewhere, team=("Maeve",)))


def test_a_break_comes_by_the_sixth_hour():
    assert not found(day(out=("07:00", "15:00"), rest=("13:00", "13:30")))
    late = day(out=("06:30", "15:00"), rest=("13:00", "13:30"))
    assert "6 h 30 without a break of 30 min from Mon 06:30" in found(late)["break"]
    short = day(out=("07:00", "15:00"), rest=("12:00", "12:20"))
    assert "break" in found(short)
    assert not found(day(out=("07:00", "13:00"), rest=None))


def test_ten_hours_on_site_are_the_most():
    assert not found(day(stay("07:00", "17:00"), out=("06:45", "17:15")))
    more = day(stay("07:00", "17:05"), out=("06:45", "17:15"))
    assert "10 h 05 on site on Mon 24 May, at most 10 h" in found(more)["site-hours"]


@pytest.mark.parametrize("changes", [{"sprays": True}, {"solvent": True}])
def test_nobody_under_18_sprays_or_handles_solvents(changes):
    team = ("Orla", "Dov")
    said = found(day(stay("08:00", "10:00", team=team, **changes), team=team))
    assert said["minor"].startswith("Dov is 17")
    quiet = day(stay("08:00", "10:00", team=team), team=team)
    assert not found(quiet)


def test_a_trainee_of_19_without_a_fit_test_wears_no_hood():
    team = ("Orla", "Maeve")
    said = found(day(stay("08:00", "10:00", team=team, isocyanate=True), team=team))
    assert "Maeve has no air-fed hood" in said["fit-test"]
    assert "minor" not in said


def test_a_fit_test_holds_on_its_last_day_and_not_on_the_next():
    last = replace(HANDS[1], fit_until=MONDAY)
    wet = day(stay("08:00", "10:00", isocyanate=True))
    assert not found(wet, hands=(HANDS[0], last))
    out = replace(HANDS[1], fit_until=MONDAY - timedelta(days=1))
    said = found(wet, hands=(HANDS[0], out))
    assert "ran out on 23 May" in said["fit-test"]


def test_walls_stand_first():
    rows = objections(
        (
            day(
                stay("07:00", "17:30", isocyanate=True),
                out=("06:00", "17:40"),
                rest=None,
            ),
        ),
        HANDS,
        ShiftLimits(),
        Words(system="us"),
    )
    strengths = [one.strength for one in rows]
    assert strengths == sorted(strengths, key=lambda s: s != "wall")
    assert {"wall", "owner"} == set(strengths)
