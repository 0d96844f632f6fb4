"""The usual cautions; an empty sheet is never taken as harmless, and nothing is declared safe."""

import pytest

from dispatch.actions import cautions
from dispatch.records.models import (
    Equipment,
    ForecastHour,
    Place,
    Setting,
    Sheet,
    Stage,
    Tow,
)
from dispatch.trade.units import f_to_c
from dispatch.trade.words import Words
from tests.actions import posted

pytestmark = pytest.mark.django_db


@pytest.fixture
def day():
    job = posted.sprayed()
    posted.warm(job.boat.place)
    return posted.van_day(posted.person("rook"))


def said(day, *keys, tows=()):
    visits = [posted.visit(day, Stage.objects.get(key=key), "09:00") for key in keys]
    return "\n".join(cautions.of(visits, tows, Words()))


def test_a_sheets_own_words_come_first(day):
    text = said(day, "port")
    assert text.startswith("Lanternglass One: Cartridge mask and gloves.")
    assert "Spraying: two people at least" in text


def test_a_sheet_that_says_nothing_sends_to_the_makers_sheet(day):
    Sheet.objects.update(people="")
    assert "Read the maker's sheet before you open it" in said(day, "port")


def test_it_never_says_safe_and_leaves_the_word_to_sheets_and_rules(day):
    text = said(day, "inside")
    assert "does not say that the work is safe" in text
    assert "licensed practice" in text
    assert "Spraying" not in text


def test_towing_has_its_own(day):
    rig = Equipment.objects.create(
        key="shed", name="The Shed", kind="trailer", towed=True, weight_kg=1270
    )
    base = Place.objects.get(key="s0")
    tow = Tow.objects.create(
        van_day=day,
        equipment=rig,
        origin=base,
        destination=posted.boat().place,
        start=posted.at("07:00"),
        end=posted.at("08:00"),
    )
    assert said(day, "inside", tows=[tow, tow]).count("Towing The Shed, 2,800 lb") == 1


def forecast(day, said_of="mask", **hour):
    ForecastHour.objects.update(**hour)
    return said(day, said_of)


def test_heat_is_told_where_it_is_forecast_and_where_nothing_is(day):
    assert "Heat" not in said(day, "prep")
    hot = forecast(day, air_c=33, dew_c=24)
    assert (
        "Heat at Marrow Road: air 91 °F, feels like 103 °F in shade, up to 15 °F more in full sun."
        in hot
    )
    assert "Rest 15 min in every hour. Watch one another" in hot
    unknown = forecast(day, "port", air_c=None)
    assert "Heat and cold at Marrow Road: not known. From 88 °F rest 10 min" in unknown


def test_hours_nobody_forecast_are_told_beside_those_that_are(day):
    visit = posted.visit(day, Stage.objects.get(key="port"), "09:00", 150)
    ForecastHour.objects.filter(at=posted.at("10:00")).update(air_c=None)
    text = "\n".join(cautions.of([visit], (), Words()))
    assert "Heat and cold at Marrow Road: not known for some hours." in text


def test_hours_gone_by_ask_for_nothing(day):
    visit = posted.visit(day, Stage.objects.get(key="port"), "09:00", 150)
    ForecastHour.objects.filter(at__lt=posted.at("10:00")).update(air_c=33)
    posted.stand("10:05")
    assert "Heat" not in "\n".join(cautions.of([visit], (), Words()))


def test_unknown_humidity_says_so_and_takes_nothing_off_the_rest(day):
    text = forecast(day, air_c=33, dew_c=None, rh_pct=None)
    assert "humidity not known, so it may feel far hotter" in text
    assert "Rest 10 min in every hour." in text


def test_a_place_has_its_own_heat(day):
    Place.objects.filter(key=posted.boat().place.key).update(day_offset_k=3)
    assert "air 91 °F" in forecast(day, air_c=30, dew_c=10)


def test_cold_is_told_by_the_wind_there_is(day):
    assert "feels like 31 °F in the wind" in forecast(
        day, air_c=3.5, dew_c=0, wind_ms=10
    )
    unknown = forecast(day, "port", wind_ms=None)
    assert "Cold at Marrow Road: air 38 °F, wind not known" in unknown


def test_the_owner_may_set_when_rest_begins(day):
    Setting.objects.create(name="strain.rest_air_c", value=28)
    assert "Rest 10 min in every hour." in forecast(day, air_c=29, dew_c=5)


def test_solvents_and_dust_come_with_the_work_that_has_them(day):
    text = said(day, "prep")
    assert "Solvents, acids and cleaners" in text
    assert "Dust: mask on" in text


def test_the_hull_number_is_kept_where_transoms_are_sanded_or_coated(day):
    for key in ("prep", "mask", "ends"):
        assert "never sand it off" in said(day, key)
    assert "never sand it off" not in said(day, "port")


def test_a_place_goes_by_its_own_rule_of_heat(day):
    visit = posted.visit(day, Stage.objects.get(key="mask"), "09:00")
    ForecastHour.objects.update(air_c=f_to_c(79), dew_c=f_to_c(76))

    def told(rule):
        Place.objects.update(heat_rule=rule)
        visit.stage.job.boat.place.refresh_from_db()
        found = cautions.of([visit], (), Words())
        return [line for line in found if line.startswith("Heat at")]

    assert told("air") == []
    (line,) = told("index")
    assert line.endswith("By the heat index, as the place is set.")
    (line,) = told("stricter")
    assert line.endswith("By air and heat index, the stricter.")
    (line,) = told("wbgt")
    assert "WBGT about 8" in line
    assert "an estimate and no measurement" in line
    assert line.endswith("By WBGT, as the place is set.")


def test_two_part_keeps_others_off_in_the_outfits_units(day):
    Sheet.objects.update(kind="two-part")
    visit = posted.visit(day, Stage.objects.get(key="port"), "09:00")
    first = cautions.of([visit], (), Words())[0]
    assert "Nobody without a hood within 25 ft while it is laid" in first
    assert "7.6" not in first
    metric = cautions.of([visit], (), Words(system="metric"))[0]
    assert "within 7.6 m while it is laid, nor for 30 min after" in metric
    assert " ft" not in metric
