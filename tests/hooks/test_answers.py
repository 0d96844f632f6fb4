"""An answer that cannot be right is no answer."""

import math
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

import pytest

from dispatch.hooks import answer_parts, answers
from dispatch.hooks.specs import HOOKS
from dispatch.hooks.values import (
    DrivesAnswer,
    DrivesAsk,
    ForecastAnswer,
    Leg,
    PriceAnswer,
    PriceLine,
    Published,
    Receipt,
    Spot,
    VetoAnswer,
)
from dispatch.trade.sky import SkyHour
from dispatch.trade.spans import Span
from tests.hooks.strangers import (
    DAY,
    FORECAST_ASK,
    MORNING,
    VETO_ASK,
    forecast,
    hours,
    veto,
)


def of_hours(*given: Any) -> ForecastAnswer:
    return ForecastAnswer(issued_at=MORNING, hours=given)


def test_every_hook_has_a_check() -> None:
    assert set(answers._CHECKS) == set(HOOKS)


def test_every_number_of_an_hour_has_a_range() -> None:
    assert set(answers.RANGES) == set(SkyHour.__dataclass_fields__) - {"at"}


def test_hours_with_unknown_numbers_pass() -> None:
    assert answers.wrong("forecast", FORECAST_ASK, forecast(gust_ms=None)) == ""


@pytest.mark.parametrize("name", sorted(answers.RANGES))
@pytest.mark.parametrize("value", [math.nan, math.inf, -9999.0, 9999.0, "calm", True])
def test_a_number_that_cannot_be_is_named(name: str, value: Any) -> None:
    told = answers.wrong("forecast", FORECAST_ASK, forecast(**{name: value}))
    assert told.startswith(f"{name} is ")


@pytest.mark.parametrize(
    ("answer", "told"),
    [
        (of_hours(*hours(2)[::-1]), "hour before it"),
        (of_hours(hours()[0], hours()[0]), "hour before it"),
        (
            of_hours(
                hours()[0], replace(hours()[0], at=MORNING + timedelta(minutes=30))
            ),
            "hour before it",
        ),
        (of_hours(SkyHour(at=MORNING + timedelta(days=9))), "was not asked for"),
        (of_hours(), "no hours"),
        (of_hours("sunny"), "str among its entries"),
        (ForecastAnswer(issued_at=MORNING, hours=list(hours())), "list where a tuple"),  # type: ignore[arg-type]
        (ForecastAnswer(issued_at=datetime(2027, 5, 24), hours=hours()), "issued_at"),  # noqa: DTZ001 - a plugin's mistake
        (of_hours(*hours(answer_parts.MOST_ENTRIES + 1)), "5001 entries"),
    ],
)
def test_hours_that_cannot_be_used_are_told(answer: ForecastAnswer, told: str) -> None:
    assert told in answers.wrong("forecast", FORECAST_ASK, answer)


def moving(count: int, **numbers: float | None) -> ForecastAnswer:
    """Hours that change from one to the next, but for these numbers."""
    return of_hours(
        *(
            replace(hour, **({"air_c": 10 + n / 10, "wind_ms": 1 + n / 10} | numbers))
            for n, hour in enumerate(hours(count))
        )
    )


LONG = replace(FORECAST_ASK, span=Span(MORNING, MORNING + timedelta(days=9)))


@pytest.mark.parametrize(
    ("still", "told"),
    [
        ({"wind_ms": 0.0}, "wind_ms is 0 for 30 hours from 24 May 12:00 UTC; it looks"),
        ({"wind_ms": 3.0, "air_c": 12.0}, "air_c and wind_ms do not move for 30 hours"),
    ],
)
def test_a_sky_that_stands_still_is_stuck(still: dict[str, float], told: str) -> None:
    assert told in answers.wrong("forecast", LONG, moving(30, **still))
    assert answers.wrong("forecast", LONG, moving(29, **still)) == ""


@pytest.mark.parametrize(
    "still",
    [
        {"wind_ms": None},
        {"air_c": None, "wind_ms": 3.0},
        {"wind_ms": 3.0},
        {"air_c": 9.0},
        {"rain_mm": 0.0, "cloud_pct": 0.0},
    ],
)
def test_what_may_well_stand_still_is_not_stuck(still: dict[str, Any]) -> None:
    assert answers.wrong("forecast", LONG, moving(100, **still)) == ""


def test_a_sky_that_leaps_is_broken() -> None:
    """Twenty kelvin in an hour is the house's rule of thumb, not a record: those are faster, at one spot."""
    cold, warm = (replace(hours(2)[0], air_c=celsius) for celsius in (5.0, 26.0))
    late = replace(warm, at=cold.at + timedelta(hours=1))
    told = answers.wrong("forecast", LONG, of_hours(cold, late))
    assert "air_c jumps from 5 to 26 at" in told
    assert (
        answers.wrong("forecast", LONG, of_hours(cold, replace(late, air_c=25))) == ""
    )
    # With hours missing between nobody knows how fast it went.
    later = replace(late, at=cold.at + timedelta(hours=6))
    assert answers.wrong("forecast", LONG, of_hours(cold, later)) == ""


def test_unchanged_stands_only_for_what_was_kept() -> None:
    still = ForecastAnswer(issued_at=MORNING, hours=(), keep="7", unchanged=True)
    known = replace(FORECAST_ASK, kept="7")
    assert answers.wrong("forecast", known, still) == ""
    assert "nothing was kept" in answers.wrong("forecast", FORECAST_ASK, still)
    both = replace(still, hours=hours())
    assert "and has hours" in answers.wrong("forecast", known, both)


@pytest.mark.parametrize("keep", ["x" * (answers.MOST_KEPT + 1), {"etag": "7"}, None])
def test_only_a_short_text_is_kept(keep: Any) -> None:
    given = replace(forecast(), keep=keep)
    assert "keep is no text" in answers.wrong("forecast", FORECAST_ASK, given)


def test_vetoes_with_numbers_pass() -> None:
    assert answers.wrong("vetoes", VETO_ASK, VetoAnswer(vetoes=(veto(),))) == ""
    assert answers.wrong("vetoes", VETO_ASK, VetoAnswer(vetoes=())) == ""


LATER = Span(DAY.end, DAY.end + timedelta(hours=1))


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"numbers": {"gust_ms": math.nan}}, "wind: gust_ms is nan"),
        ({"numbers": {"gust_ms": "much"}}, "wind: gust_ms is 'much'"),
        ({"span": LATER}, "outside the span asked for"),
        ({"span": "today"}, "outside the span asked for"),
        ({"edge": "before"}, "during, ending"),
        ({"strength": "maybe"}, "wall, owner, lead"),
        ({"sentence": ""}, "sentence is empty"),
        ({"sentence": "x" * 401}, "sentence is no text of at most 400"),
        ({"sentence": "gust\0"}, "sentence is no text"),
        ({"sentence": "gust \ud83d"}, "sentence is no text"),
        ({"code": ""}, "code is letters"),
        ({"code": "x" * 31}, "30 at most"),
        ({"code": 7}, "code is letters"),
        ({"numbers": dict.fromkeys(map(str, range(60)), 1.0)}, "50 at most"),
        ({"numbers": {7: 1.0}}, "its numbers have names"),
    ],
)
def test_a_veto_that_cannot_be_used_is_told(changes: dict[str, Any], told: str) -> None:
    answer = VetoAnswer(vetoes=(veto(), veto(**changes)))
    assert told in answers.wrong("vetoes", VETO_ASK, answer)


def test_more_vetoes_than_are_taken_are_too_many() -> None:
    answer = VetoAnswer(vetoes=(veto(),) * (answer_parts.MOST_ENTRIES + 1))
    assert "5001 entries" in answers.wrong("vetoes", VETO_ASK, answer)


def test_a_receipt_is_of_one_of_three_kinds() -> None:
    with pytest.raises(ValueError, match="accepted, refused or unknown"):
        Receipt(status="sent")
    for status in ("accepted", "refused", "unknown"):
        assert answers.wrong("send", None, Receipt(status=status)) == ""


def test_what_a_receipt_says_is_text() -> None:
    odd = Receipt(status="accepted", said=5)  # type: ignore[arg-type]
    assert "no text" in answers.wrong("send", None, odd)


PAPER = Published(media_type="text/calendar", filename="visits.ics", text="BEGIN:")


@pytest.mark.parametrize(
    ("answer", "told"),
    [
        (PAPER, ""),
        (replace(PAPER, media_type="text/html"), "its media type is 'text/html'"),
        (replace(PAPER, filename="../visits.ics"), "its file name is"),
        (replace(PAPER, filename='a"; x="b'), "its file name is"),
        (replace(PAPER, text=""), "its text is empty"),
        (replace(PAPER, text="x" * 1_000_001), "at most 1000000"),
        ("BEGIN:", "str where Published is wanted"),
    ],
)
def test_what_is_published_is_a_calendar_or_a_table_of_a_plain_name(answer, told):
    said = answers.wrong("publish", None, answer)
    assert told in said
    assert bool(said) == bool(told)


ENDS = (
    Spot(key="a", latitude=44.0, longitude=-69.0),
    Spot(key="b", latitude=44.1, longitude=-69.0),
)
DRIVES = DrivesAsk(
    origins=ENDS,
    destinations=ENDS,
    circuity=1.3,
    km_per_hour=50,
    start_minutes=3,
)
LEG = Leg(origin="a", destination="b", minutes=20, metres=15_000)


@pytest.mark.parametrize(
    ("legs", "told"),
    [
        ((), ""),
        ((LEG,), ""),
        ((LEG, LEG), "tells a drive twice"),
        ((replace(LEG, origin="c"),), "c to b was not asked for"),
        ((replace(LEG, minutes=math.nan),), "minutes is nan"),
        ((replace(LEG, minutes=-1),), "minutes is -1"),
        ((replace(LEG, minutes=20.5),), "whole minutes and metres"),
        ((replace(LEG, metres=10**8),), "metres is 1e+08"),
        ((replace(LEG, minutes=1, metres=90_000),), "90 km in 1 min cannot be driven"),
        ([LEG], "list where a tuple of Leg is wanted"),
        ((LEG, 5), "int among its entries"),
        ((LEG,) * 5001, "5001 entries"),
    ],
)
def test_a_drive_is_one_that_can_be_driven_and_was_asked_for(legs, told) -> None:
    said = answers.wrong("drives", DRIVES, DrivesAnswer(legs=legs))
    assert told in said
    assert bool(said) == bool(told)


LINE = PriceLine(words="$68 a foot for 20 ft", cents=136_000)


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        ((LINE,), ""),
        ((LINE, replace(LINE, cents=-136_000)), ""),
        ((LINE, replace(LINE, cents=-136_001)), "-0.01 together; 0 to 1,000,000"),
        ((), ""),
        ((replace(LINE, cents=math.nan),), "cents is nan"),
        ((replace(LINE, cents=1.5),), "whole cents are wanted"),
        ((replace(LINE, cents=None),), "whole cents are wanted"),
        ((replace(LINE, cents=10**9),), "cents is 1e+09"),
        ((LINE,) * 1000, "1,360,000.00 together"),
        ((replace(LINE, words=""),), "a line's words is empty"),
        ((replace(LINE, words="x" * 121),), "at most 120 letters"),
        ([LINE], "list where a tuple of PriceLine is wanted"),
        ((LINE, 5), "int among its entries"),
    ],
)
def test_a_price_is_whole_cents_that_make_a_sum(lines, told) -> None:
    said = answers.wrong("price", None, PriceAnswer(lines=lines))
    assert told in said
    assert bool(said) == bool(told)
