"""Hours come from a CSV whole, in SI, unknown where the file is silent; or not at all."""

import os
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from dispatch.hooks import testing
from dispatch.hooks.values import ForecastAnswer, ForecastAsk
from dispatch.trade.spans import Span
from tests.plugins.asks import FORECAST_ASK, ISSUED, NY, WEEK, found
from tests.trade.lanternglass import WEATHER, sky

HEADER = "time,air_f,dew_f,rh_pct,wind_mph,gust_mph,from_deg,cloud_pct,rain_in,rain_prob_pct,fog"
EIGHT = "2027-05-24T08:00:00-04:00,50,41,71,4.0,6.0,320,5,0.02,40,1"
NINE = "2027-05-24T09:00:00-04:00,53,41,64,5.0,9.0,300,5,0.00,5,0"
Read = Callable[..., ForecastAnswer]


@pytest.fixture
def read(tmp_path: Path) -> Read:
    """Ask the plugin for a place, after writing these lines as its file."""

    def lines(*text: str, ask: ForecastAsk = FORECAST_ASK, **more: str):
        (tmp_path / "forecast.csv").write_text("\n".join(text) + "\n")
        given = {"folder": str(tmp_path)} | more
        return testing.answer(found("weather_file"), given, "forecast", ask)

    return lines


def refusal(read: Read, *lines: str) -> str:
    with pytest.raises(testing.Broken) as broken:
        read(*lines)
    return str(broken.value)


@pytest.mark.parametrize("name", ["forecast_issued_sun_1800", "weather_as_it_happened"])
def test_the_demo_week_comes_in_whole(name: str) -> None:
    given = {"folder": str(WEATHER), "file": f"{name}.csv"}
    answer = testing.answer(
        found("weather_file"),
        given | {"issued_at": ISSUED.isoformat()},
        "forecast",
        FORECAST_ASK,
    )
    assert len(answer.hours) == 168
    assert answer.hours == sky(name, ISSUED).hours
    assert answer.issued_at == ISSUED


def test_numbers_come_in_si(read: Read) -> None:
    (hour,) = read(HEADER, EIGHT).hours
    assert hour.at == datetime(2027, 5, 24, 12, tzinfo=UTC)
    assert hour.air_c == pytest.approx(10.0)
    assert hour.dew_c == pytest.approx(5.0)
    assert hour.wind_ms == pytest.approx(1.78816)
    assert hour.rain_mm == pytest.approx(0.508)
    assert (hour.rh_pct, hour.from_deg, hour.rain_prob_pct) == (71, 320, 40)
    assert hour.fog == 1


def test_an_empty_cell_is_unknown_and_zero_is_zero(read: Read) -> None:
    (hour,) = read(HEADER, "2027-05-24T08:00:00-04:00,50,41,71,0, ,,5,0.00,5,").hours
    assert hour.wind_ms == 0
    assert (hour.gust_ms, hour.from_deg, hour.fog) == (None, None, None)


def test_an_hour_that_is_left_out_stays_out(read: Read) -> None:
    answer = read(HEADER, EIGHT, EIGHT.replace("T08", "T11"))
    first, second = answer.hours
    assert second.at - first.at == timedelta(hours=3)


def test_columns_may_stand_in_any_order_beside_others(read: Read) -> None:
    columns, cells = HEADER.split(","), EIGHT.split(",")
    turned = read(
        ",".join(["note", *reversed(columns)]), ",".join(["", *reversed(cells)])
    )
    assert turned.hours == read(HEADER, EIGHT).hours


def test_only_the_hours_of_the_span_are_handed_over(read: Read) -> None:
    noon = datetime(2027, 5, 24, 9, 30, tzinfo=NY)
    ask = ForecastAsk(
        place_key="x", latitude=44, longitude=-69, span=Span(noon, WEEK.end)
    )
    assert [hour.at.hour for hour in read(HEADER, EIGHT, NINE, ask=ask).hours] == [13]


def test_the_night_the_clocks_change_has_each_hour_once(read: Read) -> None:
    before, after = "2027-11-07T01:00:00-04:00", "2027-11-07T01:00:00-05:00"
    span = Span(datetime(2027, 11, 7, tzinfo=NY), datetime(2027, 11, 8, tzinfo=NY))
    ask = ForecastAsk(place_key="x", latitude=44, longitude=-69, span=span)
    rows = [EIGHT.replace(EIGHT.split(",")[0], at) for at in (before, after)]
    first, second = read(HEADER, *rows, ask=ask).hours
    assert second.at - first.at == timedelta(hours=1)


@pytest.mark.parametrize(
    ("cell", "put", "told"),
    [
        ("50", "warm", "line 3: air_f is 'warm'; a number from -80 to 140 is wanted"),
        ("50", "nan", "line 3: air_f is 'nan'; a number"),
        ("71", "171", "line 3: rh_pct is '171'; a number from 0 to 100 is wanted"),
        ("6.0", "-6.0", "line 3: gust_mph is '-6.0'; a number from 0"),
        ("320", "inf", "line 3: from_deg is 'inf'; a number from 0 to 360"),
        (
            "T08:00:00-04:00",
            "T08:00:00",
            "line 3: time is '2027-05-24T08:00:00'; a time with its offset",
        ),
        ("2027-05-24T08:00:00-04:00", "", "line 3: time is ''; a time with its offset"),
        ("T08", "T10", "line 4: time is 2027-05-24T13:00Z, not an hour or more after"),
        ("T08", "T09", "line 4: time is 2027-05-24T13:00Z, not an hour or more after"),
        ("T08:00", "T08:30", "line 4: time is 2027-05-24T13:00Z, not an hour or more"),
        (",40,1", ",4", "line 3 has 10 cells; 11 are wanted"),
        (",40,1", ",40,1,", "line 3 has 12 cells; 11 are wanted"),
    ],
)
def test_one_bad_row_refuses_the_whole_file(
    read: Read, cell: str, put: str, told: str
) -> None:
    said = refusal(read, "# a remark", HEADER, EIGHT.replace(cell, put, 1), NINE)
    assert "forecast.csv" in said
    assert told in said
    assert said.endswith("Nothing was taken in.")


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        (("",), "forecast.csv is empty"),
        (("# issued 2027-05-23T18:00:00-04:00",), "forecast.csv is empty"),
        ((HEADER.replace("gust_mph,", ""), EIGHT), "lacks the columns gust_mph"),
        ((EIGHT, NINE), "lacks the columns time, air_f"),
        ((HEADER,), "has no hour from 24 May 2027"),
        ((HEADER, EIGHT.replace("2027", "2026")), "has no hour from 24 May 2027"),
        (("# issued yesterday", HEADER, EIGHT), "line 1: issued is 'yesterday'"),
    ],
)
def test_a_file_without_usable_hours_is_told(
    read: Read, lines: tuple[str, ...], told: str
) -> None:
    assert told in refusal(read, *lines)


def test_the_file_says_when_it_was_issued_before_the_option(read: Read) -> None:
    option = "2027-05-22T06:00:00-04:00"
    assert read(HEADER, EIGHT, issued_at=option).issued_at.day == 22
    said = read("# issued 2027-05-23T18:00:00-04:00", HEADER, EIGHT, issued_at=option)
    assert said.issued_at == ISSUED


def test_else_it_was_issued_when_it_was_written(read: Read, tmp_path: Path) -> None:
    read(HEADER, EIGHT)
    written = datetime(2027, 5, 23, 4, tzinfo=UTC)
    path = tmp_path / "forecast.csv"
    os.utime(path, (written.timestamp(),) * 2)
    answer = testing.answer(
        found("weather_file"), {"folder": str(tmp_path)}, "forecast", FORECAST_ASK
    )
    assert answer.issued_at == written


def test_a_place_with_a_file_of_its_own_is_read_from_it(
    read: Read, tmp_path: Path
) -> None:
    own = [HEADER, EIGHT.replace(",50,", ",59,")]
    (tmp_path / "marrow-road.csv").write_text("\n".join(own))
    assert read(HEADER, EIGHT).hours[0].air_c == pytest.approx(15.0)


def test_a_missing_file_and_one_that_is_no_text_are_told(tmp_path: Path) -> None:
    given = {"folder": str(tmp_path)}
    with pytest.raises(testing.Broken, match=r"neither marrow-road\.csv nor"):
        testing.answer(found("weather_file"), given, "forecast", FORECAST_ASK)
    (tmp_path / "forecast.csv").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(testing.Broken, match="cannot be read as UTF-8"):
        testing.answer(found("weather_file"), given, "forecast", FORECAST_ASK)
