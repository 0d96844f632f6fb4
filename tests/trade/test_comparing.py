"""The numbers of a visit beside their limits: the same that judge it, and unknown is never kept."""

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dispatch.trade.comparing import compare
from dispatch.trade.sky import Sky
from dispatch.trade.spans import Span
from dispatch.trade.window import judge, vetoes
from dispatch.trade.words import Words
from tests.trade.test_window import HAPPENED, WEEK, moment, spray

RULES = (
    "air-cold",
    "air-hot",
    "surface-cold",
    "surface-hot",
    "humid",
    "spread",
    "wind",
    "gust",
)


def by_name(found):
    return {one.name: one for one in found}


def test_a_fine_friday_keeps_every_limit_with_its_numbers():
    friday = Span(moment(28, 9, 30), moment(28, 11))
    found = by_name(compare(spray(), HAPPENED, friday, Words()))
    assert all(one.keeps for one in found.values())
    assert found["Air"].limit == "55 °F to 88 °F"
    assert found["Gusts"].limit == "at most 14 mph"
    assert found["Hull above the dew point"].limit == "at least 5 °F"


# The demo week's Tuesday: gusts of 15 at noon and 17 at one o'clock, against the sheet's 14 (an assumption).
def test_a_sea_breeze_is_broken_with_both_numbers():
    noon = Span(moment(25, 11, 40), moment(25, 13, 10))
    gusts = by_name(compare(spray(), HAPPENED, noon, Words()))["Gusts"]
    assert gusts.keeps is False
    assert gusts.there.endswith("17 mph")
    screened = by_name(compare(spray(cover="screens"), HAPPENED, noon, Words()))
    assert screened["Gusts"].limit == "at most 18 mph"


def test_what_is_not_known_is_never_kept():
    friday = Span(moment(28, 9), moment(28, 11))
    gone = [
        replace(hour, gust_ms=None) if hour.at == moment(28, 10) else hour
        for hour in HAPPENED.hours
    ]
    holed = by_name(
        compare(spray(), replace(HAPPENED, hours=tuple(gone)), friday, Words())
    )
    assert holed["Gusts"].keeps is None
    assert "not known for every hour" in holed["Gusts"].there
    nothing = compare(spray(), None, friday, Words())
    assert {one.keeps for one in nothing} == {None}
    assert {one.there for one in nothing} == {"not known"}


def test_work_the_sky_does_not_matter_to_is_held_to_nothing():
    week = Span(moment(28, 9), moment(28, 11))
    assert compare(spray(family="any", sheet=None), HAPPENED, week, Words()) == ()
    inside = by_name(
        compare(spray(family="inside", sheet=None), HAPPENED, week, Words())
    )
    assert set(inside) == {"Air", "Wind", "Gusts"}


SKY = Sky(hours=HAPPENED.hours, issued_at=HAPPENED.issued_at)
AGAINST = vetoes(spray(), SKY, WEEK)


@settings(deadline=None, max_examples=60)
@given(hour=st.integers(0, 160), minutes=st.integers(10, 180))
def test_a_number_is_broken_just_where_its_rule_stands_against_the_visit(hour, minutes):
    start = WEEK.start + timedelta(hours=hour)
    span = Span(start, start + timedelta(minutes=minutes))
    broken = {
        one.code for one in compare(spray(), SKY, span, Words()) if one.keeps is False
    }
    # One rule binds at a time, so each that binds is among those that are broken.
    binding = {veto.code for veto in judge(span, AGAINST) if veto.edge == "during"}
    same = {"air-hot": "air-cold"}
    assert {same.get(code, code) for code in binding & set(RULES)} <= broken


@pytest.mark.parametrize("system", ["us", "metric"])
def test_every_number_has_its_unit(system):
    friday = Span(moment(28, 9, 30), moment(28, 11))
    for one in compare(spray(), HAPPENED, friday, Words(system=system)):
        for said in (one.there, one.limit):
            assert any(unit in said for unit in ("°F", "°C", "%", "mph", "m/s"))
