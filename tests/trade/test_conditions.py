"""The limits of a moment: which bind, in what words, and what overcast does to shade."""

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from dispatch.trade.condition import always, under
from dispatch.trade.shade import Hull
from dispatch.trade.sky import Sky
from dispatch.trade.spans import Span
from dispatch.trade.units import df_to_dk, f_to_c, inch_to_mm
from dispatch.trade.window import judge, vetoes
from dispatch.trade.work import Veto, Work
from tests.trade.lanternglass import SITE
from tests.trade.test_window import HAPPENED, WEEK, codes, moment, spray

EAST = Hull(heading_true_deg=90)
OVERCAST = Span(moment(26, 9), moment(26, 10, 30))


def during(work: Work, span: Span, sky: Sky = HAPPENED) -> set[str]:
    found = judge(span, vetoes(work, sky, WEEK))
    return codes([veto for veto in found if veto.edge == "during"])


def with_hour(at_index: int, **numbers: float | None) -> Sky:
    hours = list(HAPPENED.hours)
    hours[at_index] = replace(hours[at_index], **numbers)  # type: ignore[arg-type]
    return replace(HAPPENED, hours=tuple(hours))


@pytest.mark.parametrize("panel", ["rail", "starboard"])
def test_cloud_over_a_whole_slot_is_open_shade(panel: str) -> None:
    work = spray(panels=(panel,), hull=EAST)
    assert "sun" not in during(work, OVERCAST)


@pytest.mark.parametrize("cloud", [80.0, None])
def test_one_hour_of_less_cloud_leaves_only_geometry(cloud: float | None) -> None:
    sky = with_hour(2 * 24 + 10, cloud_pct=cloud)
    for panel, lit in (("rail", True), ("starboard", True), ("port", False)):
        work = spray(panels=(panel,), hull=Hull(heading_true_deg=0))
        assert ("sun" in during(work, OVERCAST, sky)) is lit


@pytest.mark.parametrize(("dark", "minutes"), [(True, 45), (False, 20)])
def test_a_hull_rests_after_the_sun(*, dark: bool, minutes: int) -> None:
    work = spray(panels=("port",), hull=Hull(heading_true_deg=135), dark=dark)
    friday = Span(moment(28, 11), moment(28, 13))
    (rest,) = (v for v in vetoes(work, HAPPENED, friday) if v.code == "resting")
    assert rest.span.length == timedelta(minutes=minutes)
    assert rest.strength == "lead"
    begun = vetoes(work, HAPPENED, Span(rest.span.start, friday.end))
    assert begun[0].span == rest.span


def test_film_levels_in_shade_and_in_light_air_after_the_visit() -> None:
    quick = spray(panels=("port",), hull=Hull(heading_true_deg=10))
    slow = replace(quick, tail_minutes=30)
    end = Span(moment(25, 11, 20), moment(25, 11, 45))
    assert not during(quick, end)
    assert during(slow, end) == {"gust"}


def test_a_boat_whose_heading_nobody_read_is_never_in_shade() -> None:
    found = vetoes(spray(panels=("port",)), HAPPENED, WEEK)
    assert {"no-heading"} <= codes(found)
    assert not [v for v in found if v.code == "sun"]


@pytest.mark.parametrize(
    ("family", "inches", "stopped"),
    [
        ("wash", 0.05, False),
        ("wash", 0.2, True),
        ("prep", 0.01, True),
        ("inside", 0.5, False),
    ],
)
def test_light_rain_stops_prep_but_not_washing(
    family: str, inches: float, *, stopped: bool
) -> None:
    sky = with_hour(4 * 24 + 10, rain_mm=inch_to_mm(inches), rain_prob_pct=30.0)
    work = spray(family=family, sheet=None)
    at_ten = Span(moment(28, 10), moment(28, 11))
    assert ("rain" in during(work, at_ten, sky)) is stopped


def test_washing_does_not_ask_for_numbers_it_has_no_limit_on() -> None:
    sky = with_hour(4 * 24 + 10, dew_c=None, rh_pct=None)
    at_ten = Span(moment(28, 10), moment(28, 11))
    assert not during(spray(family="wash", sheet=None), at_ten, sky)
    assert during(spray(), at_ten, sky) == {"unknown"}


def test_the_sky_says_nothing_about_work_it_does_not_matter_to() -> None:
    assert not [
        v for v in vetoes(spray(family="any"), HAPPENED, WEEK) if v.edge == "during"
    ]


def test_a_sheets_limit_is_a_wall_and_the_outfits_own_is_the_owners() -> None:
    cold = with_hour(4 * 24 + 10, air_c=f_to_c(40))
    at_ten = Span(moment(28, 10), moment(28, 11))

    def strength(work: Work) -> str:
        (veto,) = (
            v for v in judge(at_ten, vetoes(work, cold, WEEK)) if v.code == "air-cold"
        )
        return veto.strength

    assert strength(spray()) == "wall"
    assert strength(spray(family="polish", sheet=None)) == "owner"


def test_numbers_are_told_in_the_units_asked_for() -> None:
    cold: dict[str, Veto] = {
        units: next(
            v for v in vetoes(spray(), HAPPENED, WEEK, units) if v.code == "air-cold"
        )
        for units in ("us", "metric")
    }
    assert cold["us"].sentence == "air 45 °F, needs at least 55 °F"
    assert cold["metric"].sentence == "air 7.2 °C, needs at least 12.8 °C"
    assert cold["us"].numbers == cold["metric"].numbers


def test_a_veto_more_than_three_days_ahead_says_it_is_only_likely() -> None:
    for veto in vetoes(spray(), HAPPENED, WEEK):
        far = veto.span.start >= moment(26, 18) and veto.code != "unknown"
        assert veto.sentence.endswith("(only likely, this far ahead)") is far


@pytest.mark.parametrize(
    ("family", "minutes_before", "stopped"),
    [("polish", 60, False), ("wax", 60, True), ("wax", 125, False), ("wax", 115, True)],
)
def test_wax_stays_dry_for_two_hours(
    family: str, minutes_before: int, *, stopped: bool
) -> None:
    """Rain came on Wednesday at 14:00: polish may end close before it, wax two hours before."""
    ends = moment(26, 14) - timedelta(minutes=minutes_before)
    slot = Span(ends - timedelta(minutes=20), ends)
    found = judge(slot, vetoes(spray(family=family, sheet=None), HAPPENED, WEEK))
    assert ("rain" in {veto.code for veto in found}) is stopped
    told = [v.sentence for v in found if v.code == "rain"]
    assert all("within 120 min after it" in said for said in told)


def test_a_sprinkler_wets_fresh_wax_too() -> None:
    noon = Span(moment(28, 13), moment(28, 14))
    site = replace(SITE, known_wettings=(noon,))
    work = spray(family="wax", sheet=None, site=site)
    slot = Span(moment(28, 11), moment(28, 11, 30))
    assert "rain" in during(work, slot)
    assert "rain" not in during(replace(work, site=SITE), slot)


def test_wax_does_not_go_on_before_hours_whose_rain_nobody_knows() -> None:
    short = Sky(hours=HAPPENED.hours[: 4 * 24 + 12], issued_at=HAPPENED.issued_at)
    work = spray(family="wax", sheet=None)
    late = Span(moment(28, 10, 30), moment(28, 10, 50))
    assert "unknown" in {v.code for v in judge(late, vetoes(work, short, WEEK))}


@pytest.mark.parametrize(("family", "stopped"), [("polish", False), ("letters", True)])
def test_letters_want_less_wind_than_polish(family: str, *, stopped: bool) -> None:
    """Tuesday's sea breeze gusts 15 mph at noon: polish may, 25 is its limit, letters keep under 12."""
    slot = Span(moment(25, 12), moment(25, 12, 30))
    assert ("gust" in during(spray(family=family, sheet=None), slot)) is stopped


@pytest.mark.parametrize("limit_f", [2, 5, 9])
@pytest.mark.parametrize("dew_f", [40, 47, 53, 58, 61])
def test_a_value_that_stands_at_its_limit_keeps_to_it(
    dew_f: float, limit_f: float
) -> None:
    """Degrees Fahrenheit that are apart by as much as is asked for are so in kelvin too, but for what arithmetic makes of it."""
    surface = np.array([f_to_c(dew_f + limit_f), f_to_c(dew_f + limit_f - 0.01)])
    spread = surface - f_to_c(dew_f)
    found = under("spread", spread, df_to_dk(limit_f), always("at its limit"), "lead")
    assert found.fails.tolist() == [False, True]
