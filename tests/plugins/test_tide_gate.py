"""A float is usable about high water alone; where the tide is not known it is not."""

from dataclasses import replace
from datetime import datetime, timedelta
from itertools import pairwise

import pytest

from dispatch.hooks import registry, testing
from dispatch.hooks.manifest import InvalidOption
from dispatch.trade.spans import Span
from dispatch.trade.work import Veto
from plugins.tide_gate.harmonics import height_m
from tests.outside.test_tide import CONSTANTS, MADE_UP
from tests.plugins.asks import NY, VETO_ASK, found

DAY = Span(datetime(2027, 5, 24, tzinfo=NY), datetime(2027, 5, 25, tzinfo=NY))
STATION = "\n".join(f"{name} {h} {g}" for name, (h, g) in MADE_UP.items())
# The demo's own: 09:10 on Monday, the next 12 h 25 min on.
TABLE = "2027-05-23 20:45\n2027-05-24 09:10\n2027-05-24 21:35"


def vetoes(span: Span = DAY, place: str = "oars-head", **options: object):
    given = {"gates": "oars-head 3"} | options
    ask = replace(VETO_ASK, place_key=place, horizon=span)
    answered: tuple[Veto, ...] = testing.answer(
        found("tide_gate"), given, "vetoes", ask
    ).vetoes
    return answered


def local(veto: Veto) -> str:
    start, end = veto.span.start.astimezone(NY), veto.span.end.astimezone(NY)
    return f"{start:%a %H:%M}-{end:%a %H:%M}"


def test_a_float_is_shut_but_three_hours_either_side_of_high_water():
    """The hours are those that the demo's places are closed by."""
    found_ = vetoes(high_waters=TABLE)
    assert [local(veto) for veto in found_] == [
        "Mon 00:00-Mon 06:10",
        "Mon 12:10-Mon 18:35",
    ]
    assert {(veto.code, veto.strength) for veto in found_} == {("tide", "wall")}
    assert "3 h either side of high water" in found_[0].sentence


def test_the_tide_shuts_only_the_places_it_was_entered_for():
    assert vetoes(place="marrow-road", high_waters=TABLE) == ()


def test_where_the_table_does_not_reach_the_tide_is_unknown():
    week = Span(DAY.start, DAY.start + timedelta(days=3))
    late = vetoes(week, high_waters=TABLE)[0]
    assert (late.code, late.strength) == ("unknown", "wall")
    assert local(late) == "Tue 03:35-Thu 00:00"


def test_a_high_water_left_out_of_the_table_is_unknown_about_it():
    gap = "2027-05-23 20:45\n2027-05-24 21:35"
    unknown = [v for v in vetoes(high_waters=gap) if v.code == "unknown"]
    assert [local(veto) for veto in unknown] == ["Mon 02:45-Mon 15:35"]


def test_constants_shut_what_they_shut_by_the_high_waters_they_make():
    """High waters of these constants by UTide 0.4.0, sampled by the minute."""
    told = ("2027-05-24T18:59Z", "2027-05-25T06:56Z", "2027-05-25T19:44Z")
    shut = vetoes(Span(DAY.start, DAY.start + timedelta(days=2)), constants=STATION)
    for (a, b), high in zip(pairwise(shut), told, strict=True):
        middle = a.span.end + (b.span.start - a.span.end) / 2
        assert abs(middle - datetime.fromisoformat(high)) < timedelta(minutes=4)


def test_a_height_shuts_while_the_tide_stands_lower():
    shut = vetoes(constants=STATION, gates="oars-head above 1.2", mean_m=1.5)
    at = DAY.start
    while at < DAY.end:
        inside = any(veto.span.holds(at) for veto in shut)
        height = height_m(CONSTANTS, 1.5, at)
        assert inside or height >= 1.2 - 0.001
        assert not inside or height <= 1.2 + 0.1
        at += timedelta(minutes=7)


def test_it_is_judged_within_the_time_a_plugin_has():
    span = Span(DAY.start, DAY.start + timedelta(days=14))
    assert len(vetoes(span, constants=STATION)) > 20


@pytest.mark.parametrize(
    ("options", "told"),
    [
        ({"high_waters": TABLE, "constants": STATION}, "one of the two"),
        ({}, "one of the two"),
        ({"gates": "oars-head above 1", "high_waters": TABLE}, "a height needs"),
        ({"gates": "oars-head", "high_waters": TABLE}, "option gates: 'oars-head' is"),
        ({"gates": "oars-head 9", "high_waters": TABLE}, "at most 6 h are wanted"),
        ({"high_waters": "Monday"}, "option high_waters: 'Monday' is not as"),
        ({"constants": "M2 1.36"}, "option constants: 'M2 1.36' is not as"),
        ({"constants": "M3 0.1 20"}, "M3 is not reckoned with; there is SA"),
        ({"constants": "M2 nan 20"}, "has what is no number"),
    ],
)
def test_what_cannot_be_read_is_refused_with_what_is_wanted(options, told):
    with pytest.raises(InvalidOption, match=told):
        registry.validate(found("tide_gate"), {"gates": "oars-head 3"} | options)
