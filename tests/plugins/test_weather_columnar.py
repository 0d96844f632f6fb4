"""Columns become hours in SI, each at its own moment, unknown where the service is silent; or nothing is taken in."""

import json
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, urlsplit

import pytest
from django.utils import timezone

from dispatch.hooks import fetch, testing
from dispatch.hooks.values import ForecastAnswer, ForecastAsk
from dispatch.trade.spans import Span
from tests.hooks import loopback
from tests.hooks.loopback import Loopback, Reply, told
from tests.plugins.asks import FORECAST_ASK, found, options, ready

SAMPLE = Path(__file__).parent / "samples" / "columnar.json"
PATH = "/forecast"
ISSUED = "Sat, 13 Mar 2027 18:00:00 GMT"
YEAR = Span(datetime(2027, 1, 1, tzinfo=UTC), datetime(2028, 1, 1, tzinfo=UTC))
SPRING = ["2027-03-14T01:00", "2027-03-14T03:00", "2027-03-14T04:00"]
AUTUMN = ["2027-11-07T00:00", "2027-11-07T01:00", "2027-11-07T02:00"]
Ask = Callable[..., ForecastAnswer]


@pytest.fixture
def server(monkeypatch: pytest.MonkeyPatch) -> Iterator[Loopback]:
    monkeypatch.setattr(fetch, "_FIRST_PAUSE_S", 0.01)
    with loopback.running() as running:
        running.answers(PATH, told(sample(), Last_Modified=ISSUED))
        yield running


@pytest.fixture
def read(server: Loopback) -> Ask:
    """Ask the plugin for a place, after putting a payload in the place of the sample."""

    def ask(
        payload: object = None, *, kept: str = "", **more: object
    ) -> ForecastAnswer:
        if payload is not None:
            server.answers(PATH, told(payload, Last_Modified=ISSUED))
        question = ForecastAsk(
            place_key="pier", latitude=38.98, longitude=-76.49, span=YEAR, kept=kept
        )
        given = {"address": server.address + PATH, "timeout_s": 0.4} | more
        answer: ForecastAnswer = testing.answer(
            found("weather_columnar"), given, "forecast", question
        )
        return answer

    return ask


def sample(**changed: Any) -> dict[str, Any]:
    """The sample, with these columns changed; what is no column is changed beside them."""
    payload: dict[str, Any] = json.loads(SAMPLE.read_text())
    for name, value in changed.items():
        where = payload if name in payload else payload["hourly"]
        where[name] = value
    return payload


def unit(column: str, name: str | None, *values: Any) -> dict[str, Any]:
    """The sample with a column of its own unit."""
    payload = sample(**({column: list(values)} if values else {}))
    payload["hourly_units"][column] = name
    return payload


def clocks(*local: str, zone: str | None, offset: int | None) -> dict[str, Any]:
    """Air alone, by times of a clock."""
    return {
        "timezone": zone,
        "utc_offset_seconds": offset,
        "hourly_units": {"time": "iso8601", "temperature_2m": "°C"},
        "hourly": {"time": list(local), "temperature_2m": [*range(len(local))]},
    }


def moments(answer: ForecastAnswer) -> list[str]:
    return [f"{hour.at:%dT%H}" for hour in answer.hours if hour.air_c is not None]


def refusal(read: Ask, payload: object) -> str:
    with pytest.raises(testing.Broken) as broken:
        read(payload)
    return str(broken.value)


def test_it_asks_for_utc_and_for_every_column_it_reads(
    server: Loopback, read: Ask
) -> None:
    read()
    asked = parse_qs(urlsplit(server.paths()[0]).query)
    assert asked["timezone"] == ["UTC"]
    assert asked["timeformat"] == ["unixtime"]
    assert (asked["latitude"], asked["longitude"]) == (["38.9800"], ["-76.4900"])
    assert "wind_gusts_10m" in asked["hourly"][0].split(",")


def test_an_address_may_ask_for_more(server: Loopback, read: Ask) -> None:
    read(address=f"{server.address}{PATH}?forecast_days=9")
    asked = parse_qs(urlsplit(server.paths()[0]).query)
    assert asked["forecast_days"] == ["9"]
    assert asked["latitude"] == ["38.9800"]


def test_the_sample_comes_in_si_at_its_moments(read: Ask) -> None:
    # By hand: New York 14 March 2027, 01:00 EST is 06Z, 03:00 EDT 07Z (15 USC 260a), 04:00 EDT 08Z.
    answer = read()
    assert moments(answer) == ["14T06", "14T07", "14T08"]
    known = {hour.at.hour: hour for hour in answer.hours}
    assert [known[h].air_c for h in (6, 7, 8)] == [7.1, 6.8, 6.6]
    assert [known[h].rh_pct for h in (6, 7, 8)] == [88, 90, 91]
    assert known[6].wind_ms == pytest.approx(6.5 / 3.6)
    assert known[6].from_deg is None
    assert known[6].fog is None
    assert answer.issued_at == datetime(2027, 3, 13, 18, tzinfo=UTC)


def test_what_is_of_the_hour_before_is_put_there(read: Ask) -> None:
    payload = sample(precipitation=[1.0, 2.0, 3.0])
    back = {hour.at.hour: hour for hour in read(payload).hours}
    assert [back[h].rain_mm for h in (5, 6, 7, 8)] == [1.0, 2.0, 3.0, None]
    assert [back[h].rain_prob_pct for h in (5, 6, 7, 8)] == [5, 5, None, None]
    assert back[7].gust_ms == pytest.approx(3.0)
    assert back[5].air_c is None
    ahead = read(payload, looks_back=False).hours
    assert [hour.rain_mm for hour in ahead] == [1.0, 2.0, 3.0]


@pytest.mark.parametrize(
    ("column", "name", "value", "field", "si"),
    [
        ("temperature_2m", "°F", 50, "air_c", 10),
        ("dew_point_2m", "K", 283.15, "dew_c", 10),
        ("wind_speed_10m", "m/s", 5, "wind_ms", 5),
        ("wind_speed_10m", "kn", 10, "wind_ms", 5.144444),
        ("wind_speed_10m", "mph", 10, "wind_ms", 4.4704),
        ("wind_speed_10m", "mp/h", 10, "wind_ms", 4.4704),
        ("precipitation", "inch", 0.1, "rain_mm", 2.54),
        ("wind_direction_10m", "°", 320, "from_deg", 320),
        # WMO present weather: 45 and 48 are fog, 3 is overcast; from memory.
        ("weather_code", "wmo code", 45, "fog", 1),
        ("weather_code", "wmo code", 48, "fog", 1),
        ("weather_code", "wmo code", 3, "fog", 0),
    ],
)
def test_numbers_are_read_in_the_unit_that_is_named(
    read: Ask, column: str, name: str, value: float, field: str, si: float
) -> None:
    hours = read(unit(column, name, value, None, None), looks_back=False).hours
    assert getattr(hours[0], field) == pytest.approx(si)
    assert getattr(hours[1], field) is None


def test_a_column_that_is_missing_or_has_no_unit_is_unknown(read: Ask) -> None:
    bare = sample(temperature_2m=None)
    del bare["hourly_units"]["dew_point_2m"]
    assert {hour.air_c for hour in read(bare).hours} == {None}
    assert {hour.dew_c for hour in read(bare).hours} == {None}


@pytest.mark.parametrize(
    ("payload", "moments_utc"),
    [
        (clocks(*SPRING, zone="America/New_York", offset=-18000), "14T06 14T07 14T08"),
        (clocks(*SPRING, zone="America/New_York", offset=-14400), "14T06 14T07 14T08"),
        (
            clocks(*AUTUMN[:2], *AUTUMN[1:], zone="America/New_York", offset=-14400),
            "07T04 07T05 07T06 07T07",
        ),
        (clocks(*AUTUMN, zone="GMT", offset=0), "07T00 07T01 07T02"),
        (clocks(*AUTUMN, zone=None, offset=-18000), "07T05 07T06 07T07"),
        # Arizona does not change its clocks.
        (clocks(*AUTUMN, zone="America/Phoenix", offset=-25200), "07T07 07T08 07T09"),
        (
            clocks(
                "2027-11-07T01:00-04:00",
                "2027-11-07T01:00-05:00",
                zone=None,
                offset=None,
            ),
            "07T05 07T06",
        ),
    ],
)
def test_local_times_are_the_moments_they_mean(
    read: Ask, payload: dict[str, Any], moments_utc: str
) -> None:
    assert moments(read(payload)) == moments_utc.split()


NEW_YORK = "America/New_York"


@pytest.mark.parametrize(
    ("payload", "told"),
    [
        # 02:00 does not exist that night: the series is not of that clock.
        (
            clocks("2027-03-14T01:00", "2027-03-14T02:00", zone=NEW_YORK, offset=None),
            "not sure which moment 2027-03-14T02:00 is",
        ),
        # The second 01:00 is left out: of that clock an hour is missing, of a fixed one none.
        (
            clocks(*AUTUMN, zone=NEW_YORK, offset=-14400),
            "not sure which moment 2027-11-07T02:00 is",
        ),
        (clocks(*SPRING, zone=None, offset=-18000), "not sure which moment"),
        (clocks(*SPRING, zone=None, offset=None), "neither timezone nor utc_offset"),
        (clocks(*SPRING, zone="Pell/Harbor", offset=0), "timezone is 'Pell/Harbor'"),
        (
            clocks(*SPRING, zone=NEW_YORK, offset=3600),
            "utc_offset_seconds is 3600, which America/New_York never has",
        ),
        (
            clocks(SPRING[0], SPRING[1] + "-04:00", zone=NEW_YORK, offset=None),
            "only some of its times have an offset",
        ),
        (clocks("noon", zone=NEW_YORK, offset=None), "time has 'noon'"),
        (clocks(SPRING[0], SPRING[0], zone="UTC", offset=0), "less than an hour after"),
        (clocks(SPRING[1], SPRING[0], zone="UTC", offset=0), "less than an hour after"),
        (clocks(zone="UTC", offset=0), "has no list of times"),
    ],
)
def test_a_time_that_is_not_sure_refuses_the_whole_forecast(
    read: Ask, payload: dict[str, Any], told: str
) -> None:
    said = refusal(read, payload)
    assert told in said
    assert "Nothing was taken in." in said


@pytest.mark.parametrize(
    ("payload", "told"),
    [
        (unit("temperature_2m", "furlong"), "temperature_2m is in 'furlong'; °C, °F"),
        (unit("wind_gusts_10m", "%"), "wind_gusts_10m is in '%'; m/s, km/h"),
        (unit("time", "stardate"), "time is in 'stardate'; iso8601 or unixtime"),
        (unit("time", "unixtime"), "time has '2027-03-14T01:00'; seconds since 1970"),
        (unit("time", "unixtime", 1, True, 3), "time has 'True'; seconds"),
        (unit("time", "unixtime", 1e300, 2, 3), "time has '1e+300'; seconds"),
        (sample(temperature_2m=[7.1]), "temperature_2m is no list as long as time"),
        (sample(temperature_2m=[7.1, "warm", 6]), "temperature_2m has 'warm'; numbers"),
        (sample(cloud_cover=[True, 1, 2]), "cloud_cover has 'True'; numbers"),
        (sample(hourly=[]), "the answer has no block hourly."),
        (sample(hourly_units=None), "the answer has no block hourly_units."),
        ([], "the answer is JSON, but no object."),
    ],
)
def test_what_cannot_be_read_refuses_the_whole_forecast(
    read: Ask, payload: object, told: str
) -> None:
    said = refusal(read, payload)
    assert said.startswith("Plugin weather_columnar cannot answer: ")
    assert told in said
    assert said.endswith("Nothing was taken in.")


def test_numbers_no_sky_can_have_are_refused(read: Ask) -> None:
    assert "rh_pct is 101; 0 to 100" in refusal(
        read, sample(relative_humidity_2m=[101, 1, 1])
    )


def test_a_service_without_an_hour_of_the_span_is_told(read: Ask) -> None:
    late = clocks("2031-01-01T00:00", zone="UTC", offset=0)
    assert "has no hour from 01 Jan 2027" in refusal(read, late)


def test_without_a_last_modified_it_is_as_old_as_its_answer(
    server: Loopback, read: Ask
) -> None:
    server.answers(PATH, told(sample()))
    age = timezone.now() - read().issued_at
    assert abs(age) < timedelta(minutes=1)


def test_what_has_not_changed_is_asked_for_and_not_read_again(
    server: Loopback, read: Ask
) -> None:
    server.answers(PATH, told(sample(), Last_Modified=ISSUED, ETag='"7"'))
    first = read()
    again = read(kept=first.keep)
    assert (again.unchanged, again.hours) == (True, ())
    assert (again.issued_at, again.keep) == (first.issued_at, first.keep)
    assert server.asked[1][1]["If-Modified-Since"] == ISSUED
    elsewhere = read(kept=first.keep, address=f"{server.address}{PATH}?x=1")
    assert not elsewhere.unchanged


@pytest.mark.parametrize("kept", ["x", "[]", "{}", '{"url": "elsewhere"}', "7"])
def test_what_was_kept_by_another_is_not_used(read: Ask, kept: str) -> None:
    assert not read(kept=kept).unchanged


def test_a_stumble_is_got_over(server: Loopback, read: Ask) -> None:
    server.answers(PATH, Reply(status=500), told(sample()))
    assert len(moments(read())) == 3


@pytest.mark.parametrize(
    ("reply", "why"),
    [
        (Reply(status=503), "answered 503 Service Unavailable"),
        (Reply(body=b"<html>"), "answered what is not JSON"),
        (Reply(body=b"{}", slow_s=2), "did not answer within 0.4 s"),
        (Reply(status=404), "answered 404 Not Found"),
    ],
)
def test_a_service_that_fails_is_told_by_its_address(
    server: Loopback, read: Ask, reply: Reply, why: str
) -> None:
    server.answers(PATH, reply)
    said = refusal(read, None)
    assert f"{server.address}{PATH} {why}" in said


def test_the_demo_week_is_the_sky_that_a_file_gives(tmp_path: Path) -> None:
    by_file = testing.answer(
        found("weather_file"),
        options("weather_file", tmp_path),
        "forecast",
        FORECAST_ASK,
    )
    with ready("weather_columnar", tmp_path) as given:
        by_columns = testing.answer(
            found("weather_columnar"), given, "forecast", FORECAST_ASK
        )
    # What looks back is not known of the last hour.
    assert by_columns.hours[:-1] == by_file.hours[:-1]
    assert by_columns.hours[-1].rain_mm is None
    assert by_columns.issued_at == by_file.issued_at
