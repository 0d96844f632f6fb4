"""A source that is down: film is judged by the age of what came last, it is told once, and nothing is made of it.

Hours and factors are the house's own assumptions, which a setting changes.
"""

from datetime import timedelta
from zoneinfo import ZoneInfo

import pytest

from dispatch.actions import (
    board_films,
    film_sky,
    holds,
    old_sky,
    visit_sky,
    weather,
)
from dispatch.records.models import (
    DueWork,
    Forecast,
    HistoryEntry,
    Hold,
    Judged,
    Outfit,
    Place,
)
from tests.actions import plans, shop
from tests.journeys import skies

pytestmark = pytest.mark.django_db


@pytest.fixture
def stage():
    found = skies.spray(issued="2027-05-24T05:00:00-04:00")
    DueWork.objects.all().delete()
    return found


def stand(day: int, clock: str) -> None:
    """The moment it is; what was judged was judged when the forecast came."""
    Outfit.objects.update(stands_at=plans.at(day, clock))


def told() -> list[str]:
    rows = HistoryEntry.objects.filter(verb=old_sky.VERB)
    return [row.sentence for row in rows]


def judged_again() -> int:
    return DueWork.objects.filter(verb="judge-stage", done_at=None).count()


def test_a_fresh_forecast_leaves_nothing_to_do(stage):
    stand(24, "10:59")
    assert old_sky.look() == 0
    assert not judged_again()


def test_film_is_judged_again_each_hour_of_age_and_once_an_hour(stage):
    Judged.objects.update(at=plans.at(24, "05:00"))
    stand(24, "12:10")
    assert old_sky.look() == 1
    asked = judged_again()
    assert asked
    # By now it is done: nothing more within the hour.
    DueWork.objects.all().delete()
    Judged.objects.update(at=plans.at(24, "12:10"))
    stand(24, "12:50")
    old_sky.look()
    assert not judged_again()
    stand(24, "13:05")
    old_sky.look()
    assert judged_again() == asked


def test_of_many_places_the_first_are_named_and_the_rest_counted(stage):
    for name in ("Ash", "Birch", "Cedar", "Dogwood"):
        place = shop.driveway(key=name.lower(), name=name)
        shop.boat(place, key=f"boat-{name.lower()}")
        Forecast.objects.create(
            place=place,
            source="weather_file",
            issued_at=plans.at(24, "05:00"),
            taken_in_at=plans.at(24, "05:00"),
        )
    stand(24, "19:00")
    old_sky.look()
    (line,) = told()
    assert " and 3 other places. Until one comes" in line


def test_it_is_told_once_for_all_places_and_again_of_the_next_that_grows_old(stage):
    for clock in ("16:00", "18:00", "19:00"):
        stand(24, clock)
        old_sky.look()
    (line,) = told()
    assert "No newer forecast since Mon 24 May 05:00" in line
    assert "enter the sky by hand" in line
    stand(25, "02:00")
    Forecast.objects.create(
        place=Place.objects.get(),
        source="weather_file",
        issued_at=plans.at(24, "20:00"),
        taken_in_at=plans.at(24, "20:00"),
    )
    old_sky.look()
    assert len(told()) == 1
    stand(25, "09:00")
    old_sky.look()
    assert len(told()) == 2


def test_two_part_turns_to_ask_and_never_to_forbidden(stage):
    skies.two_part(stage)
    start, end = plans.at(25, "09:00"), plans.at(25, "10:20")
    assert skies.says(stage, start, end).word == visit_sky.ALLOWS
    stand(24, "20:00")
    found = skies.says(stage, start, end)
    assert found.word == visit_sky.UNKNOWN
    assert "issued 15 h ago" in found.why
    assert "asking the owner" in found.why


def test_the_range_of_laid_film_widens_and_nobody_is_told(stage):
    laid = plans.at(24, "11:00")
    stand(24, "11:00")
    holds.write(stage, laid, planned=False)
    before = Hold.objects.get(kind="sandable")
    lines = HistoryEntry.objects.count()
    stand(24, "23:00")
    film_sky.age(stage.job.boat.place)
    after = Hold.objects.get(kind="sandable")
    assert after.end == before.end
    assert after.latest - before.latest > timedelta(minutes=20)
    assert after.earliest < before.earliest
    assert HistoryEntry.objects.count() == lines


def test_a_widened_range_says_how_old_its_forecast_is(stage):
    """Issued at 05:00: at 11:00 it is fresh, at 23:00 it is 18 h old, on the card and on the board alike."""
    stand(24, "11:00")
    holds.write(stage, plans.at(24, "11:00"), planned=False)
    zone = ZoneInfo(stage.job.boat.place.time_zone)
    assert "old" not in holds.when(Hold.objects.get(kind="sandable"), zone)
    stand(24, "23:00")
    told = holds.when(Hold.objects.get(kind="sandable"), zone)
    assert "wider, as the forecast is 18 h old" in told
    film = board_films._film(stage, stage.name, plans.at(24, "11:00"))
    assert film.aging == "; wider, as the forecast is 18 h old"


def test_the_clock_of_the_sky_alone_makes_no_forecast_young(stage):
    """The same answer asked for again is as old as it was."""
    weather.take_in(stage.job.boat.place)
    stand(24, "18:30")
    weather.take_in(stage.job.boat.place)
    assert old_sky.too_old(stage.job.boat.place, plans.at(24, "18:30"))
