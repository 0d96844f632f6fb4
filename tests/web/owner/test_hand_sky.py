"""The page to enter a place's sky by hand: who opens it, what it shows and keeps."""

import re

import pytest

from dispatch.records.models import Forecast, ForecastHour, Outfit, Place
from tests.actions import plans, posted, shop
from tests.web import people

pytestmark = pytest.mark.django_db

NOW = plans.at(25, "07:30")
SENT = {
    "from": "2027-05-25T08:00",
    "until": "2027-05-25T14:00",
    "wind_ms": "14",
    "gust_ms": "21",
    "rain_mm": "0",
    "rain_prob_pct": "0",
}


@pytest.fixture
def place():
    shop.outfit()
    Outfit.objects.update(stands_at=NOW)
    found = shop.driveway()
    posted.warm(found, issued=plans.at(24, "17:00"), hours=48)
    return found


@pytest.fixture
def orla(client, place):
    account = people.owner()
    client.force_login(account)
    return account


def test_it_tells_the_forecasts_age_and_shows_its_next_hours(client, orla):
    page = client.get("/places/s5/sky/").text
    assert "issued Mon 24 May 17:00, 14 h 30 ago" in page
    assert "Gusts, mph" in page
    days = re.findall(r'class="day">([^<]+)<', page)
    assert days == ["Tue 25 May", "Wed 26 May"]
    hours = re.findall(r'<th scope="row">([\d:]+)</th>', page)
    assert (hours[0], hours[-1], len(hours)) == ("07:00", "07:00", 25)
    assert "not known</span></td>" not in page


def test_what_the_forecast_does_not_tell_is_said_to_be_unknown(client, orla):
    ForecastHour.objects.filter(at=plans.at(25, "09:00")).update(gust_ms=None)
    page = client.get("/places/s5/sky/").text
    assert page.count(">not known</span></td>") == 1
    assert "what hangs on it is not known either" in page


def test_what_is_entered_stands_with_who_and_when_and_can_be_taken_back(client, orla):
    page = client.post("/places/s5/sky/", SENT, follow=True).text
    assert "Entered by hand by" in page
    assert "for Tue 08:00-14:00" in page
    assert page.count('<tr class="by-hand">') == 6
    hour = Forecast.objects.get(source="by hand").hours.get(at=plans.at(25, "09:00"))
    assert hour.gust_ms == pytest.approx(21 * 0.44704)
    assert (hour.rain_mm, hour.rain_prob_pct) == (0, 0)
    Place.objects.update(is_base=True)
    assert re.search(r">by hand, [\dh min]+ old</text>", client.get("/week/").text)
    page = client.post("/places/s5/sky/back/", follow=True).text
    assert "The forecast stands again." in page
    assert not Forecast.objects.filter(source="by hand").exists()


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"gust_ms": "windy"}, "Gusts: windy is no number."),
        ({"gust_ms": "400"}, "Gusts cannot be 400 mph."),
        ({"until": "2027-05-25T07:00"}, "end before they begin"),
        ({"from": "soon"}, "The first moment is missing."),
    ],
)
def test_a_slip_is_told_in_a_sentence_and_what_was_typed_stays(
    client, orla, change, said
):
    answer = client.post("/places/s5/sky/", SENT | change)
    assert answer.status_code == 422
    assert said in answer.text
    assert "Nothing was stored." in answer.text
    assert 'value="14"' in answer.text
    assert not Forecast.objects.filter(source="by hand").exists()


def test_strangers_and_the_crew_stay_out(client, place):
    assert client.get("/places/s5/sky/").status_code == 302
    client.force_login(people.crew())
    assert client.get("/places/s5/sky/").status_code == 403
    assert client.post("/places/s5/sky/back/").status_code == 403
