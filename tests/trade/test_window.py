"""What the sky allows: scenarios of the demo week, worked out beside the code."""

from dataclasses import replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dispatch.trade import samples
from dispatch.trade.limits import Limits
from dispatch.trade.shade import Hull, shaded_through
from dispatch.trade.sky import Sky, SkyHour
from dispatch.trade.spans import Span, intersect, normal
from dispatch.trade.units import f_to_c, ft_to_m, mph_to_ms
from dispatch.trade.window import judge, may_do, vetoes
from dispatch.trade.work import Neighbour, Veto, Work
from tests.trade.lanternglass import ONE_PART, SITE, TWO_PART, ZONE, sky

NY = ZoneInfo(ZONE)
WEEK = Span(datetime(2027, 5, 24, tzinfo=NY), datetime(2027, 5, 31, tzinfo=NY))
HAPPENED = sky("weather_as_it_happened", datetime(2027, 5, 23, 18, tzinfo=NY))
FORECAST = sky("forecast_issued_sun_1800", datetime(2027, 5, 23, 18, tzinfo=NY))
SURE = Limits(confidence_factor=1.0)


def spray(**changes: object) -> Work:
    given: dict[str, object] = {
        "family": "spray",
        "site": SITE,
        "quickest_minutes": 90,
        "sheet": ONE_PART,
        "limits": SURE,
    }
    return Work(**(given | changes))  # type: ignore[arg-type]


def moment(day: int, hour: int, minute: int = 0) -> datetime:
    return datetime(2027, 5, day, hour, minute, tzinfo=NY)


def ending(
    work: Work, day: int, hour: int, minute: int = 0, *, under: Sky = HAPPENED
) -> list[Veto]:
    """The vetoes on the end of a last coat at a moment."""
    end = moment(day, hour, minute)
    broken = judge(Span(end - timedelta(minutes=1), end), vetoes(work, under, WEEK))
    return [veto for veto in broken if veto.edge == "ending"]


def codes(found: list[Veto] | tuple[Veto, ...]) -> set[str]:
    return {veto.code for veto in found}


def test_film_that_is_safe_before_the_dew_is_let_pass_and_later_film_is_not() -> None:
    assert not ending(spray(), 24, 15)
    late = ending(spray(), 24, 16, 45)
    assert codes(late) == {"dew-before-safe"}
    assert "needs above 0" in late[0].sentence


def test_two_part_laid_in_the_afternoon_meets_the_dew() -> None:
    assert codes(ending(spray(sheet=TWO_PART), 24, 15)) == {"dew-before-safe"}
    assert not ending(spray(sheet=TWO_PART), 24, 13)


def test_rain_needs_two_hours_to_spare() -> None:
    assert not ending(spray(), 26, 9, under=FORECAST)
    assert codes(ending(spray(), 26, 9, 45, under=FORECAST)) == {"rain-soon"}


def test_margins_widen_beyond_a_day_ahead() -> None:
    assert not ending(spray(), 26, 9, 15, under=FORECAST)
    assert codes(ending(spray(limits=Limits()), 26, 9, 15, under=FORECAST)) == {
        "rain-soon"
    }


def test_a_storm_passes_one_part_and_stops_two_part() -> None:
    assert not ending(spray(), 29, 10)
    assert codes(ending(spray(sheet=TWO_PART), 29, 10)) == {"rain-soon"}


def test_a_roof_waives_rain_dew_and_shade() -> None:
    roofed = spray(cover="roof", panels=("port",), hull=Hull(heading_true_deg=90))
    assert not ending(roofed, 24, 16, 45)
    assert "sun" not in codes(vetoes(roofed, HAPPENED, WEEK))


def test_a_lit_bow_panel_refuses_a_side_whose_main_panel_is_shaded() -> None:
    work = spray(panels=("starboard",), hull=Hull(heading_true_deg=90))
    morning = Span(moment(25, 7, 30), moment(25, 9))
    assert "sun" in codes(judge(morning, vetoes(work, HAPPENED, WEEK)))


def test_spread_is_told_with_its_numbers() -> None:
    at = moment(24, 10)
    hour = SkyHour(
        at=at,
        air_c=f_to_c(61),
        dew_c=f_to_c(57),
        rh_pct=78,
        wind_ms=1,
        gust_ms=2,
        from_deg=0,
        cloud_pct=50,
        rain_mm=0,
        rain_prob_pct=0,
    )
    found = vetoes(
        spray(), Sky(hours=(hour,), issued_at=at), Span(at, at + timedelta(hours=1))
    )
    spread = next(veto for veto in found if veto.code == "spread")
    assert spread.sentence == "surface 61 °F, dew point 57 °F: spread 4 °F, needs 5 °F"
    assert spread.strength == "wall"


@pytest.mark.parametrize(
    "missing", ["air_c", "dew_c", "wind_ms", "gust_ms", "rain_mm", "rain_prob_pct"]
)
def test_a_missing_number_is_unknown_and_never_a_go(missing: str) -> None:
    hours = tuple(replace(hour, **{missing: None}) for hour in HAPPENED.hours)
    found = vetoes(spray(), Sky(hours=hours, issued_at=HAPPENED.issued_at), WEEK)
    assert any(
        veto.code == "unknown" and veto.span.length >= timedelta(days=6)
        for veto in found
    )
    assert not may_do([WEEK], found, timedelta(minutes=90))


def test_without_a_forecast_the_week_is_unknown() -> None:
    (only,) = vetoes(spray(), None, WEEK)
    assert (only.code, only.span) == ("unknown", WEEK)


@pytest.mark.parametrize(
    ("gun", "cover", "bearing", "stopped"),
    [
        ("turbine", "open", 45, True),
        ("electric", "open", 45, True),
        ("turbine", "screens", 45, False),
        ("turbine", "open", 225, False),
    ],
)
def test_overspray_reaches_downwind_by_gun_and_cover(
    gun: str, cover: str, bearing: float, stopped: bool
) -> None:
    at = moment(24, 10)
    hour = replace(
        HAPPENED.hours[10], at=at, gust_ms=mph_to_ms(11), wind_ms=2, from_deg=225
    )
    car = Neighbour(what="white car", bearing_deg=bearing, distance_m=ft_to_m(30))
    work = spray(gun=gun, cover=cover, neighbours=(car,))
    found = vetoes(
        work, Sky(hours=(hour,), issued_at=at), Span(at, at + timedelta(hours=1))
    )
    assert ("overspray" in codes(found)) is stopped


def test_gusts_stop_the_harbour_and_not_the_inland_yard() -> None:
    slot = Span(moment(25, 11, 40), moment(25, 13, 10))
    harbour, inland = (
        spray(site=replace(SITE, wind_factor=factor)) for factor in (1.0, 0.55)
    )
    assert "gust" in codes(judge(slot, vetoes(harbour, HAPPENED, WEEK)))
    assert "gust" not in codes(judge(slot, vetoes(inland, HAPPENED, WEEK)))


def test_windows_hold_whole_visits_and_no_bad_end() -> None:
    work = spray(panels=("port",), hull=Hull(heading_true_deg=10), tail_minutes=34)
    against = vetoes(work, HAPPENED, WEEK)
    windows = may_do([WEEK], against, timedelta(minutes=70))
    assert windows
    for window in windows:
        first_end = window.span.start + timedelta(minutes=70)
        assert not judge(Span(window.span.start, first_end), against)
        assert not judge(
            Span(window.span.end - timedelta(minutes=70), window.span.end), against
        )


def levels(work: Work, end: datetime) -> timedelta:
    """How long film levels that is laid until a moment: by the hull's warmth in the last minutes."""
    last = samples.take(work, HAPPENED, Span(end - timedelta(minutes=5), end))
    return timedelta(minutes=float(samples.tail_minutes(last, work)[-1]))


@pytest.mark.parametrize(("panel", "heading"), [("port", 10), ("transom", 45)])
def test_a_visit_at_either_end_of_a_window_levels_in_shade(
    panel: str, heading: float
) -> None:
    hull = Hull(heading_true_deg=heading)
    work = spray(panels=(panel,), hull=hull, tail_minutes=34)
    windows = may_do([WEEK], vetoes(work, HAPPENED, WEEK), timedelta(minutes=70))
    assert windows
    for window in windows:
        wet = Span(window.span.start, window.span.end + levels(work, window.span.end))
        assert shaded_through(SITE, hull, panel, wet)


def test_a_window_names_the_vetoes_at_its_edges() -> None:
    work = spray(panels=("port",), hull=Hull(heading_true_deg=10), tail_minutes=34)
    thursday_to_saturday = Span(moment(27, 0), moment(30, 0))
    windows = may_do(
        [thursday_to_saturday], vetoes(work, HAPPENED, WEEK), timedelta(minutes=70)
    )
    told = {
        window.span.start: (
            window.before.code if window.before else None,
            window.after.code if window.after else None,
        )
        for window in windows
    }
    assert told[moment(28, 8)] == ("air-cold", "sun")


def test_access_that_opens_late_is_no_fault_of_the_sky() -> None:
    against = vetoes(spray(), HAPPENED, WEEK)
    access = Span(moment(28, 9, 30), moment(28, 10, 30))
    (window,) = may_do([access], against, timedelta(minutes=60))
    assert (window.span, window.before, window.after) == (access, None, None)


def test_a_bad_end_closes_one_window_and_opens_the_next() -> None:
    def veto(edge: str, first: int, last: int) -> Veto:
        return Veto(
            span=Span(moment(28, first), moment(28, last)),
            edge=edge,
            code=f"{edge}-{first}",
            sentence="in the way",
            numbers={},
            strength="owner",
        )

    against = (veto("ending", 11, 13), veto("during", 16, 17))
    hour = timedelta(hours=1)
    early, late, evening = may_do([Span(moment(28, 8), moment(28, 20))], against, hour)
    assert early.span == Span(moment(28, 8), moment(28, 11))
    assert early.after == against[0]
    assert late.span == Span(moment(28, 12), moment(28, 16))
    assert (late.before, late.after) == against
    assert evening.span == Span(moment(28, 17), moment(28, 20))
    assert (evening.before, evening.after) == (against[1], None)


@settings(max_examples=60, deadline=None)
@given(
    runs=st.lists(
        st.tuples(
            st.sampled_from(("during", "ending")),
            st.integers(0, 20),
            st.integers(1, 6),
        ),
        max_size=6,
    ),
    quickest=st.integers(1, 5),
)
def test_no_bad_visit_is_let_in_and_no_good_quickest_one_kept_out(
    runs: list[tuple[str, int, int]], quickest: int
) -> None:
    """Brute force over whole hours of a day is the witness."""
    zero, hour = moment(28, 0), timedelta(hours=1)
    against = tuple(
        Veto(
            span=Span(zero + first * hour, zero + (first + length) * hour),
            edge=edge,
            code="x",
            sentence="in the way",
            numbers={},
            strength="owner",
        )
        for edge, first, length in runs
    )
    # Neighbouring runs leave no gap for an end between them.
    merged = normal(veto.span for veto in against if veto.edge == "ending")
    day = Span(zero, zero + 24 * hour)
    windows = [w.span for w in may_do([day], against, quickest * hour)]
    for first in range(24):
        for last in range(first + quickest, 25):
            visit = Span(zero + first * hour, zero + last * hour)
            held = any(w.start <= visit.start and visit.end <= w.end for w in windows)
            during = [v.span for v in against if v.edge == "during"]
            free = not intersect(during, [visit]) and not any(
                run.start < visit.end < run.end for run in merged
            )
            assert free or not held
            assert held or not free or last - first > quickest
