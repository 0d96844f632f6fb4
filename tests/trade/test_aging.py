"""A forecast that grows old: margins and ranges widen, and two-part is not laid by it unasked.

The hours are the house's own assumptions (settings); that what is old says less is plain sense, no table.
"""

from dataclasses import replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from dispatch.trade import cure, window
from dispatch.trade.limits import Limits
from dispatch.trade.spans import Span
from dispatch.trade.work import Work
from tests.trade.lanternglass import ONE_PART, SITE, TWO_PART, ZONE, sky

ISSUED = datetime(2027, 5, 28, 5, tzinfo=ZoneInfo(ZONE))
FRIDAY = Span(ISSUED + timedelta(hours=4), ISSUED + timedelta(hours=9))


def seen(hours: float, **changes):
    issued = sky("weather_as_it_happened", ISSUED)
    return replace(issued, seen_at=ISSUED + timedelta(hours=hours), **changes)


def spray(sheet):
    return Work(family="spray", site=SITE, quickest_minutes=80, sheet=sheet)


def codes(sheet, at):
    return {veto.code for veto in window.vetoes(spray(sheet), at, FRIDAY)}


@pytest.mark.parametrize(
    ("age", "stretch"), [(0, 1.0), (6, 1.0), (12, 1.5), (18, 2.0), (30, 3.0), (90, 3.0)]
)
def test_margins_grow_by_as_much_again_each_twelve_hours_past_six(age, stretch):
    assert Limits().stretch(age) == pytest.approx(stretch)


def test_two_part_is_asked_about_past_twelve_hours_and_one_part_is_not():
    assert "old-forecast" not in codes(TWO_PART, seen(12))
    assert "old-forecast" in codes(TWO_PART, seen(12.5))
    assert "old-forecast" not in codes(ONE_PART, seen(40))


def test_its_sentence_tells_both_ages_and_that_the_owner_may_decide():
    found = window.vetoes(spray(TWO_PART), seen(14), FRIDAY)
    old = next(veto for veto in found if veto.code == "old-forecast")
    assert old.strength == "owner"
    assert "issued 14 h ago; past 12 h" in old.sentence


def test_hours_entered_by_hand_are_not_old():
    hand = Span(FRIDAY.start, FRIDAY.start + timedelta(hours=2))
    found = window.vetoes(spray(TWO_PART), seen(14, hand=hand), FRIDAY)
    old = [veto.span for veto in found if veto.code == "old-forecast"]
    assert old == [Span(hand.end, FRIDAY.end)]


def test_rain_wants_a_longer_margin_of_an_old_forecast():
    """Saturday's storm at 16:00; film laid by 10:00 is safe at 13:37, 2 h 23 before: enough by a fresh forecast."""
    saturday = datetime(2027, 5, 29, 5, tzinfo=ZoneInfo(ZONE))
    by = sky("weather_as_it_happened", saturday)
    ends = saturday + timedelta(hours=5)
    span = Span(saturday + timedelta(hours=1), saturday + timedelta(hours=7))

    def stands(age):
        old = replace(by, seen_at=saturday + timedelta(hours=age))
        against = window.vetoes(spray(ONE_PART), old, span)
        visit = Span(ends - timedelta(minutes=80), ends)
        return [v for v in window.judge(visit, against) if v.code == "rain-soon"]

    assert not stands(0)
    # Ten hours old: 2 h grown by a third is 2 h 40.
    (soon,) = stands(10)
    assert soon.numbers["margin_minutes"] == pytest.approx(160)


def test_the_range_of_a_cure_widens_on_both_sides():
    surface = cure.Surface(start=ISSUED, hourly_c=(15.0,) * 60)
    narrow, wide = (
        cure.set_range(surface, ISSUED, 14, 10.0, stretch) for stretch in (1.0, 2.0)
    )
    assert wide.expected == narrow.expected
    assert wide.earliest < narrow.earliest
    assert wide.latest > narrow.latest
