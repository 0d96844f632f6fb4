"""The form beside a visit for what is read on a hull: who may send it, what it stores, what it refuses."""

import pytest

from dispatch.actions import plugins, weather
from dispatch.records.models import Boat, ForecastHour, Outfit, Reading, Stage
from dispatch.trade.units import f_to_c
from tests.actions import posted
from tests.web import forms, people

pytestmark = pytest.mark.django_db


@pytest.fixture
def rook():
    return people.crew()


@pytest.fixture
def port(rook):
    """Port of a boat at 64 F and 78 %, whose spray visit begins now."""
    job = posted.sprayed()
    forecast = posted.warm(job.boat.place)
    ForecastHour.objects.filter(forecast=forecast).update(
        air_c=f_to_c(64), dew_c=f_to_c(57), rh_pct=78
    )
    plugins.enable("weather_veto", {})
    stage = job.stages.get(key="port")
    Stage.objects.filter(job=job, key__in=("prep", "mask")).update(
        state="done", ended_at=posted.at("09:00")
    )
    posted.visit(posted.van_day(rook.person), stage, "10:00", 90)
    posted.stand("10:00")
    weather.judge(stage)
    return stage


def read(client, stage, **given):
    return client.post(f"/route/stages/{stage.pk}/read/", given)


def test_go_becomes_no_by_a_hull_that_is_read_too_near_the_dew_point(
    client, rook, port
):
    client.force_login(rook)
    assert "GO now" in client.get("/route/").text
    assert read(client, port, surface="61", air="64", humidity="78").status_code == 302
    waiting = client.get("/route/").text
    assert "GO now" not in waiting
    assert "being judged by that now" in waiting
    weather.judge(port)
    told = client.get("/route/").text
    assert "GO now" not in told
    assert "surface 61 °F (read 10:00), dew point 57 °F" in told.replace("\xa0", " ")
    assert "It counts until 14:00." in told


def test_metric_people_enter_celsius(client, rook, port):
    Outfit.objects.update(units="metric")
    client.force_login(rook)
    read(client, port, surface="16.1")
    assert Reading.objects.get().value == 16.1


def test_a_heading_alone_is_stored_alone(client, rook, port):
    client.force_login(rook)
    read(client, port, heading="350", reference="magnetic")
    assert Boat.objects.get().heading_deg == 350
    assert list(Reading.objects.values_list("kind", flat=True)) == ["heading_deg"]


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({}, "Nothing was read"),
        ({"surface": "warm"}, "warm is not a temperature"),
        ({"surface": "nan"}, "cannot be a temperature"),
        ({"surface": "400"}, "cannot be 400 °F"),
        ({"humidity": "130"}, "humidity cannot be 130 %"),
        ({"surface": "61", "at": "25:00"}, "is not a time"),
        ({"surface": "61", "at": "11:00"}, "has not come yet"),
        ({"heading": "90", "reference": "grid"}, "true or by compass"),
        ({"heading": "90", "reference": "true", "surface": "500"}, "cannot be 500"),
    ],
)
def test_a_refusal_stands_at_the_form_and_nothing_is_kept(
    client, rook, port, given, said
):
    client.force_login(rook)
    answer = read(client, port, **given)
    assert answer.status_code == 400
    assert said in answer.text
    assert not Reading.objects.exists()
    assert Boat.objects.get().heading_deg == 85


def test_strangers_are_sent_away(client, port):
    assert read(client, port, surface="61").url.startswith("/sign-in/")
    client.force_login(people.nobodys())
    assert read(client, port, surface="61").status_code == 403
    client.force_login(posted.person("eve").account)
    answer = read(client, port, surface="61", heading="85")
    assert answer.status_code == 403
    assert "You wrote: hull “61”, bow points to “85”" in answer.text
    assert not Reading.objects.exists()


def test_on_another_day_nothing_can_be_read(client, rook, port):
    posted.stand("10:00", posted.date(2027, 5, 25))
    client.force_login(rook)
    assert "Read the hull" not in client.get("/route/?day=2027-05-24").text


def test_what_was_read_stays_in_its_fields_with_the_sentence_beside_the_wrong_one(
    client, rook, port
):
    client.force_login(rook)
    page = read(client, port, surface="64", air="warm", heading="85").text
    form = forms.on(page, action=f"/route/stages/{port.pk}/read/")
    assert {n: form.sends[n] for n in ("surface", "air", "heading")} == {
        "surface": "64",
        "air": "warm",
        "heading": "85",
    }
    assert "warm is not a temperature" in forms.beside(page, form, "air")
    wrong = [n for n, one in form.fields.items() if "aria-invalid" in one]
    assert wrong == ["air"]
    assert page.count('role="alert"') == 1
