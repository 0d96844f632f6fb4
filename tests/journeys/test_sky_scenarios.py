"""Days of the demo week through the calls the pages use: what the sky says of a visit, and when film is hard.

Every moment was worked out by a script that shares no code with the house; film to 10 minutes. The limits and
margins are the outfit's and the invented sheets' (assumptions); a spread of 5 F and 85 % are common practice.
"""

from datetime import datetime, timedelta

import pytest

from dispatch.actions import holds, visit_sky
from dispatch.records.models import Outfit, Place, Sheet, Stage
from dispatch.trade.units import f_to_c, ft_to_m, mph_to_ms
from tests.actions import plans
from tests.journeys import skies

pytestmark = pytest.mark.django_db

GO, NO = visit_sky.ALLOWS, visit_sky.FORBIDS


def near(found: datetime | None, day: int, clock: str) -> bool:
    wanted = plans.at(day, clock)
    return found is not None and abs(found - wanted) <= timedelta(minutes=10)


# Last coat ends; rain-safe and sandable, one-part (4 and 14 h at 70 F, none below 50 F) and two-part (6, 16, 45 F).
COATS = (
    ((24, "11:30"), (24, "16:38"), (25, "17:22"), (24, "19:19"), (25, "17:51")),
    ((24, "15:00"), (24, "20:23"), (25, "21:35"), (25, "06:51"), (25, "22:16")),
    ((24, "16:45"), (25, "09:11"), (26, "00:17"), (25, "09:49"), (26, "00:58")),
    ((25, "11:00"), (25, "16:14"), (26, "10:20"), (25, "19:01"), (26, "13:36")),
    ((26, "09:00"), (26, "15:42"), (27, "09:52"), (26, "19:13"), (27, "13:00")),
    ((27, "16:00"), (27, "21:24"), (28, "16:05"), (28, "01:36"), (28, "15:38")),
    ((28, "11:00"), (28, "14:47"), (29, "02:18"), (28, "16:27"), (29, "05:55")),
    ((28, "16:45"), (28, "20:37"), (29, "11:18"), (28, "23:28"), (29, "13:04")),
    ((29, "10:00"), (29, "13:37"), (29, "23:53"), (29, "15:05"), (30, "02:32")),
)


def test_film_is_hard_when_its_nights_let_it():
    stage = skies.spray()
    for laid, safe, hard, _, _ in COATS:
        assert near(holds.sets(stage, plans.at(*laid), 4).expected, *safe), laid
        assert near(holds.sets(stage, plans.at(*laid), 14).expected, *hard), laid
    skies.two_part(stage)
    stage.sheet.refresh_from_db()
    for laid, _, _, safe, hard in COATS:
        assert near(holds.sets(stage, plans.at(*laid), 6).expected, *safe), laid
        assert near(holds.sets(stage, plans.at(*laid), 16).expected, *hard), laid


@pytest.mark.parametrize(
    ("product", "ends", "word"),
    [
        ("one", "15:00", GO),
        ("one", "16:45", NO),
        ("two", "13:00", GO),
        ("two", "15:00", NO),
    ],
)
def test_dew_before_rain_safe_stops_a_coat_though_all_else_is_fine(product, ends, word):
    stage = skies.spray()
    if product == "two":
        skies.two_part(stage)
    found = skies.coat(stage, 24, ends)
    assert found.word == word
    # The numbers of this very coat, not of the worst one of that evening.
    told = {"one": "rain-safe Tue 09:1", "two": "rain-safe Tue 06:5"}[product]
    assert word == GO or told in found.why, found.why
    assert word == GO or "dew falls Tue 0" in found.why


@pytest.mark.parametrize(("ends", "word"), [("09:00", GO), ("09:45", NO)])
def test_rain_by_the_forecast_wants_two_hours_after_rain_safe(ends, word):
    """Rain-safe 15:36 and 16:16; rain told for 18:00: 2 h 24 and 1 h 44."""
    stage = skies.spray(skies.FORECAST, issued="2027-05-25T18:00:00-04:00")
    # The scenario's own numbers break its sheet: by that forecast the air is 52 F at 07:00, 54 at 08:00 and 55 at
    # 09:00, with 86, 83 and 80 % and a spread of 4 to 6 F, where the sheet wants 55 F, 82 % and 5 F. The rule is
    # right to refuse it. So that rain alone decides, as the scenario asks, those three are let off here.
    Sheet.objects.update(air_min_c=8, surface_min_c=8, rh_max_pct=95, spread_min_k=1)
    found = skies.coat(stage, 26, ends)
    assert found.word == word, found.why
    assert word == GO or "rain Wed 18:" in found.why


def test_a_storm_lets_one_part_pass_and_stops_two_part():
    """Saturday, last coat 10:00, storm from 16:00: safe 13:37 with 2 h 23 to spare, and 15:05 with 55 min."""
    stage = skies.spray(issued="2027-05-29T05:00:00-04:00")
    assert skies.coat(stage, 29, "10:00").word == GO
    skies.two_part(stage)
    found = skies.coat(stage, 29, "10:00")
    assert found.word == NO
    assert "rain Sat 1" in found.why


def test_overspray_by_gun_cover_and_where_the_car_stands():
    """Gust 11 from 225, a car 30 ft off: it needs 39 ft downwind, 58.5 by electric gun, 13.7 screened, 15 upwind."""
    stage = skies.spray(issued="2027-05-24T05:00:00-04:00")
    place = stage.job.boat.place
    place.forecasts.all().delete()
    wind = {"gust_ms": mph_to_ms(11), "wind_ms": mph_to_ms(6), "from_deg": 225}
    skies.calm_hours(place, plans.at(24, "05:00"), **wind)
    for cover, gear, bearing, word, needed in (
        ("open", [], 45, NO, "39 ft"),
        ("open", ["little-gun"], 45, NO, "59 ft"),
        ("screens", [], 45, GO, ""),
        ("open", [], 225, GO, ""),
    ):
        car = {"what": "white car", "bearing_deg": bearing, "distance_m": ft_to_m(30)}
        Place.objects.update(neighbours=[car])
        found = skies.coat(stage, 24, "11:00", cover=cover, gear=gear)
        assert found.word == word, found.why
        assert needed in found.why


@pytest.mark.parametrize(
    ("factor", "cover", "word"),
    [(1.0, "open", NO), (1.0, "screens", GO), (0.55, "open", GO)],
)
def test_gusts_stop_the_harbour_and_not_the_inland_yard(factor, cover, word):
    """Tuesday 11:40 to 13:10: gusts of 15 and 17 against 14 open, 18 behind screens; inland 8.3 to 9.4."""
    stage = skies.spray(issued="2027-05-25T05:00:00-04:00")
    Place.objects.update(wind_factor=factor)
    start, end = plans.at(25, "11:40"), plans.at(25, "13:10")
    found = skies.says(stage, start, end, cover=cover)
    assert found.word == word
    assert word == GO or found.why == "Gust 17 mph, needs at most 14 mph."


def test_cloud_over_the_whole_slot_is_open_shade_and_one_thinner_hour_is_not():
    """Wednesday 09:00 to 10:30, a boat that heads east: her south side and her rail by cloud, her north by geometry."""
    stage = skies.spray(issued="2027-05-26T05:00:00-04:00", heading_deg=90)
    place = stage.job.boat.place
    place.forecasts.all().delete()
    skies.calm_hours(place, plans.at(26, "05:00"))
    hour = place.forecasts.get().hours.filter(at=plans.at(26, "10:00"))
    start, end = plans.at(26, "09:30"), plans.at(26, "10:30")
    for panel, cloud, word in (
        ("rail", 90, GO),
        ("starboard", 90, GO),
        ("rail", 80, NO),
        ("starboard", 80, NO),
        ("port", 80, GO),
    ):
        hour.update(cloud_pct=cloud)
        asked = {"panels": [panel], "heading_true_deg": 90}
        assert skies.says(stage, start, end, **asked).word == word, (panel, cloud)


def cured_by(hourly_f: list[int], *, start: datetime) -> float | None:
    """Hours until a film of 14 h at 70 F is hard, over hull temperatures hour by hour, none below 50 F."""
    stage = skies.spray()
    Outfit.objects.update(stands_at=start)
    place = stage.job.boat.place
    place.forecasts.all().delete()
    skies.calm_hours(place, start, cloud_pct=100)
    made = place.forecasts.get()
    for ahead, fahrenheit in enumerate(hourly_f):
        hour = made.hours.filter(at=start + timedelta(hours=ahead))
        hour.update(air_c=f_to_c(fahrenheit))
    made.hours.filter(at__gte=start + timedelta(hours=len(hourly_f))).delete()
    found = holds.sets(Stage.objects.get(pk=stage.pk), start, 14).expected
    return None if found is None else (found - start) / timedelta(hours=1)


def test_a_cold_night_counts_hour_by_hour():
    """35.8 h by the hour; by the first hour's rate it would be 19.1, by the mean of a day 24.2."""
    night = "62 60 58 56 54 52 50 49 48 47 46 46 47 49 52 56 60 63 65 66 66 65 63 60"
    later = "57 54 52 50 48 47 46 45 45 46 49 53 57 61"
    hulls = [int(one) for one in f"{night} {later}".split()]
    assert cured_by(hulls, start=plans.at(24, "06:00")) == pytest.approx(35.8, abs=0.2)


def test_at_49_degrees_it_never_sets_and_no_date_is_shown():
    start = plans.at(24, "06:00")
    assert cured_by([49] * 200, start=start) is None
    stage = Stage.objects.get(key="port-as-she-lies")
    holds.write(stage, start, planned=False)
    told = holds.when(stage.holds.get(kind="sandable"), start.tzinfo)
    assert told == holds.TOO_COLD


# Clocks go back on 7 November 2027 and forward on 14 March 2027 (15 USC 260a): a hold is elapsed time.
@pytest.mark.parametrize(
    ("laid", "hard"),
    [
        ("2027-11-06T18:00:00-04:00", "2027-11-07T07:00:00-05:00"),
        ("2027-03-13T18:00:00-05:00", "2027-03-14T09:00:00-04:00"),
    ],
)
def test_fourteen_hours_at_seventy_are_fourteen_over_a_clock_change(laid, hard):
    stage = skies.spray()
    start = datetime.fromisoformat(laid)
    Outfit.objects.update(stands_at=start)
    place = stage.job.boat.place
    place.forecasts.all().delete()
    skies.calm_hours(place, start, cloud_pct=100)
    found = holds.sets(Stage.objects.get(pk=stage.pk), start, 14).expected
    assert abs(found - datetime.fromisoformat(hard)) <= timedelta(minutes=1)
