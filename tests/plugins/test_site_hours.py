"""A place's own hours, its quiet hours and the holidays it keeps, by its own clock.

United States federal holidays of 2027 (5 U.S.C. 6103): Memorial Day is the last Monday of May, 31 May;
Independence Day falls on a Sunday and is kept on Monday 5 July. Patriots' Day is kept in Maine
(1 M.R.S. 113) on the third Monday of April, 19 April.
"""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from dispatch.hooks import registry, testing
from dispatch.hooks.manifest import InvalidOption
from dispatch.trade.spans import Span
from dispatch.trade.work import Veto
from tests.plugins.asks import NY, VETO_ASK, found

PLACE = "marrow-road"


def vetoes(ask=VETO_ASK, **options: str) -> tuple[Veto, ...]:
    """What is forbidden at the place over a span."""
    asked = replace(ask, place_key=PLACE)
    return testing.answer(found("site_hours"), options, "vetoes", asked).vetoes


def of(first: date, days: int = 1, zone=NY, **work: object):
    """The question about some days by a zone's clock."""
    start = datetime(first.year, first.month, first.day, tzinfo=zone)
    until = first + timedelta(days=days)
    end = datetime(until.year, until.month, until.day, tzinfo=zone)
    return replace(
        VETO_ASK, horizon=Span(start, end), work=replace(VETO_ASK.work, **work)
    )


def local(veto: Veto, zone=NY) -> str:
    start, end = veto.span.start.astimezone(zone), veto.span.end.astimezone(zone)
    return f"{start:%a %H:%M}-{end:%a %H:%M}"


def test_nothing_entered_forbids_nothing():
    assert vetoes() == ()


def test_outside_the_gates_hours_is_a_wall():
    found = vetoes(of(date(2027, 5, 24), 2), access="marrow-road Mon-Fri 07:00-17:00")
    assert [local(veto) for veto in found] == [
        "Mon 00:00-Mon 07:00",
        "Mon 17:00-Tue 07:00",
        "Tue 17:00-Wed 00:00",
    ]
    assert {(veto.code, veto.strength) for veto in found} == {("site-hours", "wall")}


def test_a_gate_that_nobody_entered_is_not_held_to_any_hours():
    assert vetoes(access="the-loft Mon-Fri 07:00-17:00") == ()


def test_a_yard_that_closes_at_noon_on_friday():
    lines = "marrow-road Mon-Thu 07:00-17:00\nmarrow-road Fri 07:00-12:00"
    friday = [local(veto) for veto in vetoes(of(date(2027, 5, 28)), access=lines)]
    assert friday == ["Fri 00:00-Fri 07:00", "Fri 12:00-Sat 00:00"]


def test_loud_work_keeps_to_the_hours_for_it_and_quiet_work_does_not():
    hours = "* Mon-Sun 08:00-17:00"
    loud = vetoes(of(date(2027, 5, 24)), noise=hours)
    assert [local(veto) for veto in loud] == [
        "Mon 00:00-Mon 08:00",
        "Mon 17:00-Tue 00:00",
    ]
    assert {veto.code for veto in loud} == {"quiet-hours"}
    inside = of(date(2027, 5, 24), family="inside", sheet=None)
    assert vetoes(inside, noise=hours) == ()
    own = f"{hours}\nmarrow-road Mon-Sun 00:00-24:00"
    assert vetoes(of(date(2027, 5, 24)), noise=own) == ()


@pytest.mark.parametrize("family", ["wax", "letters"])
def test_a_list_kept_before_wax_and_letters_were_told_apart_still_means_them(family):
    asked, hours = of(date(2027, 5, 24), family=family), "* Mon-Sun 08:00-17:00"
    kept = vetoes(asked, noise=hours, noisy="wash prep gelcoat spray polish")
    assert {veto.code for veto in kept} == {"quiet-hours"}
    assert vetoes(asked, noise=hours, noisy="wash prep spray polish") == ()


@pytest.mark.parametrize(
    ("day", "region", "name"),
    [
        (date(2027, 5, 31), "", "Memorial Day"),
        (date(2027, 7, 5), "", "Independence Day (observed)"),
        (date(2027, 4, 19), "ME", "Patriots' Day"),
    ],
)
def test_a_public_holiday_shuts_the_place_for_its_whole_day(day, region, name):
    veto = vetoes(of(day - timedelta(days=2), 4), country="US", region=region)[-1]
    assert veto.code == "holiday"
    assert veto.sentence == f"{name}: the place is shut"
    assert veto.span == of(day).horizon


def test_a_holiday_of_the_state_alone_needs_the_state():
    assert vetoes(of(date(2027, 4, 19)), country="US") == ()


def test_only_the_places_that_keep_holidays_are_shut():
    memorial = of(date(2027, 5, 31))
    assert vetoes(memorial, country="US", closed="the-loft") == ()
    assert len(vetoes(memorial, country="US", closed="the-loft marrow-road")) == 1


def test_a_yards_dated_exemption_lets_the_crew_in():
    exempt = "marrow-road 2027-05-31"
    assert vetoes(of(date(2027, 5, 31)), country="US", exempt=exempt) == ()
    assert len(vetoes(of(date(2027, 7, 5)), country="US", exempt=exempt)) == 1


def test_the_hours_are_those_of_the_wall_clock_where_clocks_change():
    """On Sunday 7 November 2027 clocks go back at 02:00: the night is an hour longer."""
    (before, after) = vetoes(
        of(date(2027, 11, 7)), access="marrow-road Sun 07:00-17:00"
    )
    assert before.span.length == timedelta(hours=8)
    assert after.span.start == datetime(2027, 11, 7, 22, tzinfo=UTC)


def test_another_zone_has_its_own_clock_and_day():
    zone = ZoneInfo("Pacific/Auckland")
    site = replace(VETO_ASK.work.site, zone="Pacific/Auckland")
    ask = of(date(2027, 5, 24), zone=zone, site=site)
    found = vetoes(ask, access="marrow-road Mon 07:00-17:00")
    assert [local(veto, zone) for veto in found] == [
        "Mon 00:00-Mon 07:00",
        "Mon 17:00-Tue 00:00",
    ]


@pytest.mark.parametrize(
    ("options", "told"),
    [
        ({"access": "marrow-road 7-17"}, "option access: 'marrow-road 7-17' is not as"),
        ({"access": "a Mon 17:00-07:00"}, "ends before it begins"),
        ({"noise": "* Someday 08:00-17:00"}, "option noise: .* is not as"),
        ({"noise": "* Mon 08:00-25:00"}, "is not as marrow-road"),
        ({"noisy": "wash shouting"}, "option noisy has shouting"),
        ({"country": "Pell"}, "option country is PELL; two letters"),
        ({"country": "US", "region": "XX"}, "option region is XX; US has"),
        ({"region": "ME"}, "no country has none"),
        ({"exempt": "marrow-road 2027-02-30"}, "option exempt: .* is not as"),
        ({"exempt": "31 May"}, "option exempt: .* is not as"),
    ],
)
def test_what_cannot_be_read_is_refused_with_what_is_wanted(options, told):
    with pytest.raises(InvalidOption, match=told):
        registry.validate(found("site_hours"), options)
