"""The walk-round: reckoned without a trace, taken in one go, all or nothing."""

from datetime import time

import pytest

from dispatch.actions import room_ahead
from dispatch.records.models import (
    Boat,
    Customer,
    DueWork,
    Duty,
    HistoryEntry,
    Job,
    Person,
    Place,
)
from tests.actions import shop
from tests.web import forms, people

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
NEW = {
    "boat": "",
    "boat.name": "Second Thought",
    "boat.length_m": "20",
    "boat.shape": "centre-console",
    "boat.hull_colour": "white",
    "lies.heading_deg": "350",
    "lies.heading_reference": "magnetic",
    "customer": "",
    "customer.name": "Reyes",
    "customer.phone": "+12075550143",
    "place": "",
    "place.name": "Quarry Lane",
    "place.latitude": "44.08",
    "place.longitude": "-69.195",
    "place.water": "on",
    "place.power": "on",
    "place.spray_rule": "open",
    "near.what": "Car",
    "near.bearing_deg": "45",
    "near.distance_m": "30",
    "job.kind": "spray-coat",
    "job.sheet": "one",
    "job.grade": "2",
    "job.repairs_S": "0",
    "job.repairs_M": "1",
    "job.repairs_L": "0",
    "job.panels": "0",
    "job.price_cents": "",
}


@pytest.fixture
def orla(client, settings, tmp_path):
    settings.DATA_DIR = tmp_path
    shop.outfit()
    shop.catalogue()
    shop.one_part()
    shop.driveway()
    account = people.owner()
    client.force_login(account)
    return account


@pytest.fixture
def crew(orla):
    """Two people, ten hours each from Monday to Friday."""
    for key in "ab":
        person = Person.objects.create(
            key=key, name=key, initials=key, cents_per_hour=3800
        )
        for day in range(5):
            Duty.objects.create(person=person, weekday=day, start=time(7), end=time(17))


def test_reckoning_tells_minutes_ounces_price_and_days_and_stores_nothing(client, crew):
    before = HistoryEntry.objects.count(), DueWork.objects.count()
    answer = client.post("/walk-round/", NEW | {"do": "reckon"})
    found = answer.context["found"]
    # Worked by hand: 20 ft, grade 2, one medium repair is 1,394 labour-minutes, shade cloths 55 on top; two coats
    # of a 20 ft boat take about 32 oz (common practice); the catalogue asks $68 a foot.
    assert found.estimate.likely_minutes == pytest.approx(1449, abs=1)
    assert found.estimate.product.need == "32.1 oz"
    # 20 ft at $68, and a medium repair at $160.
    assert found.estimate.listed.price.cents == 136_000 + 16_000
    # 1,449 minutes of 1,020 a day (85 % of two times ten hours) end on Tuesday; a day for the weather.
    assert [day.isoformat() for day in found.days] == ["2027-05-24", "2027-05-26"]
    assert "Monday 24 May" in answer.text
    assert not Boat.objects.exists()
    assert not Customer.objects.exists()
    assert Place.objects.count() == 1
    assert (HistoryEntry.objects.count(), DueWork.objects.count()) == before


def test_what_is_agreed_is_taken_whole_with_the_days_promised(client, crew):
    client.post("/walk-round/", NEW | {"do": "agreed", "promise_days": "on"})
    job = Job.objects.get()
    place = job.boat.place
    assert (job.state, job.price_cents, job.unfinished_cents) == (
        "agreed",
        152_000,
        152_000,
    )
    assert job.promised_by.isoformat() == "2027-05-26T22:00:00+00:00"
    assert (job.boat.heading_deg, job.boat.heading_reference) == (350, "magnetic")
    # The nearest place, 5 km off, lends its declination: 350 by compass is 334.5 true.
    assert place.declination_deg == -15.5
    assert job.stages.filter(family="spray").first().heading_true_deg == 334.5
    assert place.neighbours == [
        {"what": "Car", "bearing_deg": 45, "distance_m": pytest.approx(9.144)}
    ]
    assert place.access_hours.count() == 6


def test_a_known_boat_is_asked_for_again_and_her_heading_read_anew(client, crew):
    client.post("/walk-round/", NEW | {"do": "asked"})
    again = NEW | {
        "boat": "second-thought",
        "do": "asked",
        "lies.heading_deg": "90",
        "near.what": "",
    }
    client.post("/walk-round/", again)
    assert Boat.objects.get().heading_deg == 90
    assert list(Job.objects.values_list("key", "state")) == [
        ("j1", "asked"),
        ("j2", "asked"),
    ]


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"boat.length_m": "200"}, "Give a number from"),
        ({"boat.name": ""}, "Fill this in."),
        ({"job.sheet": ""}, "needs a product"),
        ({"place.name": "Marrow Road"}, "There is a place Marrow Road already"),
        ({"near.bearing_deg": ""}, "give its bearing"),
        ({"place.spray_rule": "none"}, "allows no spraying"),
    ],
)
def test_what_will_not_do_is_said_and_nothing_is_stored(client, crew, wrong, said):
    answer = client.post("/walk-round/", NEW | {"do": "agreed"} | wrong)
    assert answer.status_code == 422
    assert said in answer.text
    assert not Boat.objects.exists()
    assert not Customer.objects.exists()
    assert Place.objects.count() == 1


def test_without_anybody_on_duty_no_days_are_promised(client, orla):
    answer = client.post("/walk-round/", NEW | {"do": "agreed", "promise_days": "on"})
    form = forms.on(answer.text, of="groups walk")
    told = forms.beside(answer.text, form, "promise_days")
    assert "no room within four months" in told
    assert not Job.objects.exists()


def test_an_asked_for_job_takes_no_room(client, crew):
    client.post("/walk-round/", NEW | {"do": "asked"})
    first = room_ahead.room_for(60)
    Job.objects.update(state="agreed")
    assert room_ahead.room_for(60) > first


@pytest.mark.parametrize(
    ("wrong", "at", "said"),
    [
        ({"near.bearing_deg": ""}, "near.bearing_deg", "give its bearing"),
        ({"near.distance_m": ""}, "near.distance_m", "give how far off it stands."),
    ],
)
def test_what_a_neighbour_lacks_is_said_at_its_field(client, crew, wrong, at, said):
    page = client.post("/walk-round/", NEW | {"do": "agreed"} | wrong).text
    form = forms.on(page, method="post", of="groups walk")
    assert said in forms.beside(page, form, at)
    assert form.sends["near.what"] == NEW["near.what"]
