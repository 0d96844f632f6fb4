"""Layers of intervals become hours in SI, unknown where the service is silent; or nothing is taken in."""

import json
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from dispatch.hooks import fetch, registry, testing
from dispatch.hooks.manifest import InvalidOption
from dispatch.hooks.values import ForecastAnswer, ForecastAsk
from dispatch.trade.spans import Span
from plugins.weather_gridpoint import intervals
from tests.hooks import loopback
from tests.hooks.loopback import Loopback, Reply, told
from tests.plugins.asks import FORECAST_ASK, NY, found, options, ready

SAMPLE = Path(__file__).parent / "samples" / "gridpoint.json"
TWELVE = datetime(2027, 3, 13, 12, tzinfo=UTC)
DAY = Span(TWELVE, TWELVE + timedelta(days=1))
POINT, GRID = "/points/38.9784,-76.4922", "/gridpoints/ZZZ/10,20"
Ask = Callable[..., ForecastAnswer]


@pytest.fixture
def server(monkeypatch: pytest.MonkeyPatch) -> Iterator[Loopback]:
    monkeypatch.setattr(fetch, "_FIRST_PAUSE_S", 0.01)
    with loopback.running() as running:
        link = {"forecastGridData": running.address + GRID}
        running.answers(POINT, told({"properties": link}))
        running.answers(GRID, told(payload()))
        yield running


@pytest.fixture
def read(server: Loopback) -> Ask:
    """Ask the plugin for a place, after putting these layers in the place of the sample's."""

    def ask(span: Span = DAY, kept: str = "", **changed: Any) -> ForecastAnswer:
        if changed:
            server.answers(GRID, told(payload(**changed)))
        question = ForecastAsk(
            place_key="pier",
            latitude=38.9784,
            longitude=-76.4922,
            span=span,
            kept=kept,
        )
        given = {"address": server.address, "timeout_s": 0.4}
        answer: ForecastAnswer = testing.answer(
            found("weather_gridpoint"), given, "forecast", question
        )
        return answer

    return ask


def payload(**changed: Any) -> dict[str, Any]:
    sample: dict[str, Any] = json.loads(SAMPLE.read_text())
    sample["properties"] |= changed
    return sample


def layer(uom: str | None, *values: tuple[str, Any]) -> dict[str, Any]:
    said = {"values": [{"validTime": when, "value": value} for when, value in values]}
    return said if uom is None else said | {"uom": uom}


def refusal(read: Ask, **changed: Any) -> str:
    with pytest.raises(testing.Broken) as broken:
        read(**changed)
    return str(broken.value)


def test_steady_numbers_hold_all_through_their_interval(read: Ask) -> None:
    # Worked by hand from the invented sample: 2 h of 9.5, 1 h of 11.0, 3 h of 13.5 degrees.
    answer = read()
    assert [hour.at - TWELVE for hour in answer.hours] == [
        timedelta(hours=n) for n in range(6)
    ]
    assert [hour.air_c for hour in answer.hours] == [9.5, 9.5, 11.0, 13.5, 13.5, 13.5]
    assert {hour.dew_c for hour in answer.hours} == {6.0}
    assert [hour.rh_pct for hour in answer.hours] == [79] * 3 + [61] * 3
    assert {hour.cloud_pct for hour in answer.hours} == {35}
    assert answer.issued_at == datetime(2027, 3, 13, 15, 12, 44, tzinfo=UTC)


def test_wind_comes_from_kilometres_an_hour(read: Ask) -> None:
    # 12.964 and 24.076 km/h are 7 and 13 knots, a knot being 1852 m an hour.
    knots = [hour.wind_ms / (1852 / 3600) for hour in read().hours]
    assert knots == pytest.approx([7] * 4 + [13] * 2)


def test_an_amount_of_rain_is_spread_over_its_interval(read: Ask) -> None:
    assert [hour.rain_mm for hour in read().hours] == pytest.approx([0.3] * 6)


def test_rain_of_half_hours_is_summed(read: Ask) -> None:
    rain = layer(
        "wmoUnit:mm",
        ("2027-03-13T12:00:00+00:00/PT30M", 1.0),
        ("2027-03-13T12:30:00+00:00/PT1H", 3.0),
    )
    first, second = read(quantitativePrecipitation=rain).hours[:2]
    assert first.rain_mm == pytest.approx(1.0 + 1.5)
    assert second.rain_mm is None


def test_a_null_and_a_layer_that_is_missing_are_unknown(read: Ask) -> None:
    hours = read().hours
    assert {hour.gust_ms for hour in hours} == {None}
    assert {hour.from_deg for hour in hours} == {None}
    assert {hour.fog for hour in hours} == {None}


def test_a_layer_without_a_unit_is_unknown(read: Ask) -> None:
    bare = layer(None, ("2027-03-13T12:00:00+00:00/PT6H", 20))
    assert {hour.air_c for hour in read(temperature=bare).hours} == {None}


def test_an_hour_an_interval_covers_in_part_is_unknown(read: Ask) -> None:
    odd = layer("wmoUnit:degC", ("2027-03-13T12:30:00+00:00/PT2H", 10))
    assert [hour.air_c for hour in read(temperature=odd).hours[:3]] == [None, 10, None]


def test_hours_nothing_is_said_of_are_left_out(read: Ask) -> None:
    gap = layer("wmoUnit:degC", ("2027-03-13T20:00:00+00:00/PT1H", 10))
    assert [hour.at.hour for hour in read(temperature=gap).hours] == [
        *range(12, 18),
        20,
    ]


@pytest.mark.parametrize(
    ("unit", "value", "ms"),
    [
        ("wmoUnit:m_s-1", 5, 5),
        ("unit:km_h-1", 18, 5),
        ("kt", 10, 5.144444),
        ("wmoUnit:mi_h-1", 10, 4.4704),
    ],
)
def test_speeds_are_read_in_the_unit_that_is_named(
    read: Ask, unit: str, value: float, ms: float
) -> None:
    gust = layer(unit, ("2027-03-13T12:00:00+00:00/PT1H", value))
    assert read(windGust=gust).hours[0].gust_ms == pytest.approx(ms)


@pytest.mark.parametrize(
    ("unit", "value"), [("wmoUnit:degF", 50), ("wmoUnit:K", 283.15), ("degC", 10)]
)
def test_temperatures_too(read: Ask, unit: str, value: float) -> None:
    air = layer(unit, ("2027-03-13T12:00:00+00:00/PT1H", value))
    assert read(temperature=air).hours[0].air_c == pytest.approx(10)


def test_fog_is_what_the_weather_lists(read: Ask) -> None:
    # The layer's shape is from memory.
    seen = layer(
        None,
        ("2027-03-13T12:00:00+00:00/PT1H", [{"weather": "rain"}, {"weather": "fog"}]),
        ("2027-03-13T13:00:00+00:00/PT1H", [{"weather": "freezing_fog"}]),
        ("2027-03-13T14:00:00+00:00/PT1H", [{"weather": None}]),
        ("2027-03-13T15:00:00+00:00/PT1H", []),
        ("2027-03-13T16:00:00+00:00/PT1H", None),
    )
    hours = read(weather=seen).hours
    assert [hour.fog for hour in hours] == [1, 1, 0, 0, None, None]


@pytest.mark.parametrize(
    ("text", "hours"),
    # ISO 8601: a week of 7 days, a day of 24 h.
    [("P7DT13H", 181), ("PT6H", 6), ("P1D", 24), ("P1W", 168), ("PT90M", 1.5)],
)
def test_durations_are_those_of_iso_8601(text: str, hours: float) -> None:
    assert intervals.duration(text) == timedelta(hours=hours)


@pytest.mark.parametrize("text", ["", "P", "PT", "P1M", "P1Y", "6H", "PT6", "P-1D"])
def test_what_is_no_duration_of_one_length_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="is no duration"):
        intervals.duration(text)


def test_the_day_the_clocks_change_has_its_23_hours_once(read: Ask) -> None:
    # New York 14 March 2027: 02:00 EST is 03:00 EDT (15 USC 260a), so the day has 23 h.
    day = Span(datetime(2027, 3, 14, tzinfo=NY), datetime(2027, 3, 15, tzinfo=NY))
    air = layer(
        "wmoUnit:degC",
        ("2027-03-14T00:00:00-05:00/PT2H", 5),
        ("2027-03-14T03:00:00-04:00/PT21H", 6),
    )
    hours = read(span=day, temperature=air).hours
    assert len(hours) == 23
    assert [hour.air_c for hour in hours] == [5, 5] + [6] * 21
    assert hours[2].at - hours[1].at == timedelta(hours=1)


def test_the_night_an_hour_comes_twice_has_both(read: Ask) -> None:
    day = Span(datetime(2027, 11, 7, tzinfo=NY), datetime(2027, 11, 8, tzinfo=NY))
    rain = layer("wmoUnit:mm", ("2027-11-07T00:00:00-04:00/PT25H", 50))
    hours = read(span=day, quantitativePrecipitation=rain).hours
    assert [hour.rain_mm for hour in hours] == pytest.approx([2.0] * 25)


@pytest.mark.parametrize(
    ("changed", "told"),
    [
        (
            {"temperature": layer("wmoUnit:percent", (f"{DAY.start}/PT1H", 1))},
            "temperature is in 'wmoUnit:percent'; degC, degF, K can be read.",
        ),
        (
            {"temperature": layer("degC", ("2027-03-13T12:00:00+00:00/PT1H", "warm"))},
            "temperature, value 1, is 'warm'; a number or null is wanted.",
        ),
        (
            {"windGust": layer("kt", ("2027-03-13T12:00:00+00:00/PT1H", True))},
            "windGust, value 1, is 'True'; a number",
        ),
        (
            {"windGust": layer("kt", ("2027-03-13T12:00:00/PT1H", 3))},
            "windGust, value 1, has validTime '2027-03-13T12:00:00/PT1H'; a start with",
        ),
        (
            {"windGust": layer("kt", ("2027-03-13T12:00:00+00:00/P1M", 3))},
            "has validTime '2027-03-13T12:00:00+00:00/P1M'",
        ),
        (
            {"windGust": layer("kt", ("2027-03-13T12:00:00+00:00/P999W", 3))},
            "/P999W'; a start",
        ),
        ({"windGust": {"uom": "kt"}}, "windGust has no list of values."),
        ({"windGust": {"uom": "kt", "values": [7]}}, "windGust, value 1, is no inter"),
        (
            {
                "windGust": layer(
                    "kt",
                    ("2027-03-13T12:00:00+00:00/PT3H", 3),
                    ("2027-03-13T14:00:00+00:00/PT3H", 4),
                )
            },
            "windGust speaks twice of 13 Mar 14:00 UTC.",
        ),
        ({"updateTime": None}, "updateTime is 'None'; a time with its offset"),
        ({"updateTime": "2027-03-13T15:12:44"}, "updateTime is '2027-03-13T15:12:44'"),
        (
            {"weather": layer(None, ("2027-03-13T12:00:00+00:00/PT1H", "fog"))},
            "weather, value 1, is no list of weather",
        ),
    ],
)
def test_what_cannot_be_read_refuses_the_whole_forecast(
    read: Ask, changed: dict[str, Any], told: str
) -> None:
    said = refusal(read, **changed)
    assert said.startswith("Plugin weather_gridpoint cannot answer: ")
    assert told in said
    assert said.endswith("Nothing was taken in.")


def test_numbers_no_sky_can_have_are_refused(read: Ask) -> None:
    hot = layer("degC", ("2027-03-13T12:00:00+00:00/PT1H", 900))
    assert "air_c is 900; -65 to 60 can be" in refusal(read, temperature=hot)


def test_a_service_without_an_hour_of_the_span_is_told(read: Ask) -> None:
    later = Span(DAY.start + timedelta(days=30), DAY.end + timedelta(days=30))
    assert "has no hour from 12 Apr 2027" in refusal(read, span=later)


def test_what_has_not_changed_is_asked_for_and_not_read_again(
    server: Loopback, read: Ask
) -> None:
    server.answers(GRID, told(payload(), ETag='"7"'))
    first = read()
    assert not first.unchanged
    again = read(kept=first.keep)
    assert (again.unchanged, again.hours) == (True, ())
    assert (again.issued_at, again.keep) == (first.issued_at, first.keep)
    assert server.paths() == [POINT, GRID, GRID]
    server.answers(GRID, told(payload(), ETag='"8"'))
    assert len(read(kept=first.keep).hours) == 6


def test_a_grid_that_has_moved_is_looked_up_again(server: Loopback, read: Ask) -> None:
    kept = read().keep.replace("10,20", "1,2")
    assert len(read(kept=kept).hours) == 6
    assert server.paths()[-3:] == ["/gridpoints/ZZZ/1,2", POINT, GRID]


@pytest.mark.parametrize("kept", ["x", "[]", "{}", '{"point": "elsewhere"}', "null"])
def test_what_was_kept_by_another_is_not_used(
    server: Loopback, read: Ask, kept: str
) -> None:
    assert len(read(kept=kept).hours) == 6
    assert server.paths() == [POINT, GRID]


def test_a_stumble_is_got_over(server: Loopback, read: Ask) -> None:
    server.answers(GRID, Reply(status=500), told(payload()))
    assert len(read().hours) == 6


@pytest.mark.parametrize(
    ("reply", "told"),
    [
        (Reply(status=503), "answered 503 Service Unavailable"),
        (Reply(body=b"<html>"), "answered what is not JSON"),
        (Reply(body=b"[]"), "answered JSON without properties"),
        (Reply(body=b"{}", slow_s=2), "did not answer within 0.4 s"),
    ],
)
@pytest.mark.parametrize("path", [POINT, GRID])
def test_a_service_that_fails_is_told_by_its_address(
    server: Loopback, read: Ask, path: str, reply: Reply, told: str
) -> None:
    server.answers(path, reply)
    said = refusal(read)
    assert server.address + path in said
    assert told in said


@pytest.mark.parametrize(
    ("link", "why"),
    [
        (None, "names no forecastGridData for the place; it may not cover it"),
        ("https://elsewhere.example.test/grid", "points to another service"),
        ("http://10.0.0.1/grid", "may not be asked"),
    ],
)
def test_a_link_elsewhere_is_not_followed(
    server: Loopback, read: Ask, link: str | None, why: str
) -> None:
    server.answers(POINT, told({"properties": {"forecastGridData": link}}))
    assert why in refusal(read)


def test_an_address_in_clear_is_refused_when_it_is_set() -> None:
    one, away = found("weather_gridpoint"), {"address": "http://weather.example.test"}
    with pytest.raises(InvalidOption, match=r"option address: .*https is wanted"):
        registry.validate(one, away)


def test_the_demo_week_is_the_sky_that_a_file_gives(tmp_path: Path) -> None:
    by_file = testing.answer(
        found("weather_file"),
        options("weather_file", tmp_path),
        "forecast",
        FORECAST_ASK,
    )
    with ready("weather_gridpoint", tmp_path) as given:
        by_grid = testing.answer(
            found("weather_gridpoint"), given, "forecast", FORECAST_ASK
        )
    assert by_grid.hours == by_file.hours
    assert by_grid.issued_at == by_file.issued_at
