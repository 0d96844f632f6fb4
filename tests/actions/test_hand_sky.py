"""A sky entered by hand: it stands over the forecast for its hours, is judged by, and gives way to a newer issue."""

from datetime import timedelta

import pytest

from dispatch.actions import facts, hand_sky, old_sky, visit_sky, weather
from dispatch.actions.errors import Refused, Stranger
from dispatch.records.models import (
    Account,
    DueWork,
    Forecast,
    HistoryEntry,
    Outfit,
    Person,
    Place,
)
from dispatch.trade.air import rh_pct
from dispatch.trade.spans import Span
from dispatch.trade.units import mph_to_ms
from tests.actions import plans
from tests.journeys import skies

pytestmark = pytest.mark.django_db

MORNING = Span(plans.at(25, "08:00"), plans.at(25, "14:00"))
CALM = {"wind_ms": mph_to_ms(4), "gust_ms": mph_to_ms(6)}
BLOW = {"wind_ms": mph_to_ms(14), "gust_ms": mph_to_ms(21)}


@pytest.fixture
def stage():
    found = skies.spray(issued="2027-05-24T05:00:00-04:00")
    Outfit.objects.update(stands_at=plans.at(25, "07:30"))
    # The forecast comes in at the same moment, as it may where the demo's clock stands.
    Forecast.objects.update(taken_in_at=plans.at(25, "07:30"))
    DueWork.objects.all().delete()
    return found


@pytest.fixture
def orla():
    return plans.owner()


def place() -> Place:
    return Place.objects.get()


def sky_at(day: int, clock: str):
    at = plans.at(day, clock)
    newest = facts.latest_forecast(place(), plans.at(25, "07:30"))
    return facts.sky_of(newest, Span(at, at + timedelta(minutes=30))).hour(at)


def test_its_hours_are_by_hand_and_all_others_as_forecast(stage, orla):
    before = sky_at(25, "14:00")
    hand_sky.enter(place(), MORNING, BLOW, by=orla)
    assert sky_at(25, "08:00").gust_ms == pytest.approx(BLOW["gust_ms"])
    assert sky_at(25, "13:00").gust_ms == pytest.approx(BLOW["gust_ms"])
    assert sky_at(25, "14:00") == before


def test_a_visit_is_not_known_till_it_is_judged_by_it_and_then_forbidden(stage, orla):
    # At nine the air is still too cold for this product.
    start, end = plans.at(25, "10:00"), plans.at(25, "11:20")
    found = skies.says(stage, start, end)
    assert found.word == visit_sky.ALLOWS, found.why
    hand_sky.enter(place(), MORNING, BLOW, by=orla)
    now = plans.at(25, "07:30")
    asked = Span(start, end)
    assert visit_sky.of(stage, asked, now).word == visit_sky.UNKNOWN
    assert DueWork.objects.filter(verb="judge-stage", key=str(stage.pk)).exists()
    found = skies.says(stage, start, end)
    assert found.word == visit_sky.FORBIDS
    assert "21 mph" in found.why


def test_two_part_may_be_judged_by_hours_seen_though_the_forecast_is_old(stage, orla):
    skies.two_part(stage)
    start, end = plans.at(25, "09:00"), plans.at(25, "10:20")
    assert skies.says(stage, start, end).word == visit_sky.UNKNOWN
    hand_sky.enter(place(), MORNING, CALM, by=orla)
    assert skies.says(stage, start, end).word == visit_sky.ALLOWS
    later = plans.at(25, "14:30")
    beyond = skies.says(stage, later, later + timedelta(minutes=80))
    assert beyond.word != visit_sky.ALLOWS


def test_a_newer_issue_takes_its_place_and_the_same_one_again_does_not(stage, orla):
    hand_sky.enter(place(), MORNING, BLOW, by=orla)
    weather.take_in(place())
    assert hand_sky.standing(place()) is not None
    Forecast.objects.create(
        place=place(),
        source="weather_file",
        issued_at=plans.at(25, "07:00"),
        taken_in_at=plans.at(25, "07:20"),
    )
    assert hand_sky.standing(place()) is None


def test_entered_twice_the_second_stands_and_the_first_stays_where_it_is_not_covered(
    stage, orla
):
    hand_sky.enter(place(), MORNING, BLOW, by=orla)
    later = Span(plans.at(25, "10:00"), plans.at(25, "12:00"))
    hand_sky.enter(place(), later, CALM, by=orla)
    assert sky_at(25, "08:00").gust_ms == pytest.approx(BLOW["gust_ms"])
    assert sky_at(25, "11:00").gust_ms == pytest.approx(CALM["gust_ms"])
    assert Forecast.objects.filter(source=hand_sky.SOURCE).count() == 1


def test_the_humidity_follows_from_air_and_dew_point(stage, orla):
    hand_sky.enter(place(), MORNING, {"air_c": 20.0, "dew_c": 12.0}, by=orla)
    hour = sky_at(25, "09:00")
    assert hour.rh_pct == pytest.approx(rh_pct(20.0, 12.0))


def test_it_says_who_when_and_for_which_hours_and_can_be_taken_back(stage, orla):
    before = sky_at(25, "09:00")
    hand_sky.enter(place(), MORNING, BLOW, by=orla)
    told = hand_sky.standing(place()).sentence
    assert told == "Entered by hand by orla, Tue 25 May 07:30, for Tue 08:00-14:00"
    entry = HistoryEntry.objects.filter(verb="enter-sky").get()
    assert "wind 14 mph, gusts 21 mph" in entry.sentence
    hand_sky.take_back(place(), by=orla)
    assert sky_at(25, "09:00") == before
    with pytest.raises(Refused, match="No sky entered by hand"):
        hand_sky.take_back(place(), by=orla)


def test_a_place_that_has_no_forecast_can_have_its_sky_entered(stage, orla):
    Forecast.objects.all().delete()
    hand_sky.enter(place(), MORNING, BLOW, by=orla)
    assert sky_at(25, "09:00").air_c is None
    assert not old_sky.too_old(place(), plans.at(25, "08:00"))


@pytest.mark.parametrize(
    ("start", "end", "numbers", "said"),
    [
        ("08:00", "14:00", {}, "at least one"),
        ("08:30", "14:00", BLOW, "full hours"),
        ("04:00", "06:00", BLOW, "are over"),
        ("08:00", "14:00", {"wind_ms": 9.0, "gust_ms": 5.0}, "weaker than the wind"),
        ("08:00", "14:00", {"air_c": 10.0, "dew_c": 12.0}, "above the air"),
        ("08:00", "14:00", {"cloud_pct": 140.0}, "cannot be 140 %. Enter 0 to 100"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence_and_nothing_is_stored(
    stage, orla, start, end, numbers, said
):
    span = Span(plans.at(25, start), plans.at(25, end))
    with pytest.raises(Refused, match=said):
        hand_sky.enter(place(), span, numbers, by=orla)
    assert not Forecast.objects.filter(source=hand_sky.SOURCE).exists()


def test_nobody_but_the_owner_enters_it(stage):
    driver = Account.objects.create(
        username="teague", role="crew", person=Person.objects.get(key="teague")
    )
    with pytest.raises(Stranger):
        hand_sky.enter(place(), MORNING, BLOW, by=driver)
    assert hand_sky.standing(place()) is None
