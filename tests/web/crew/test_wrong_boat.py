"""A report on the wrong boat, on the crew's page: asked about, taken back, put to the right one."""

import pytest

from dispatch.records.models import HistoryEntry, Stage
from tests.actions import posted
from tests.web import forms, people

pytestmark = pytest.mark.django_db


@pytest.fixture
def rook():
    return people.crew()


@pytest.fixture
def port(rook):
    job = posted.sprayed()
    day = posted.van_day(rook.person)
    posted.visit(day, job.stages.get(key="port"), "11:00", 90)
    posted.visit(day, posted.beside(job).stages.get(key="port"), "14:00", 90)
    posted.stand("11:10")
    return job.stages.get(key="port")


@pytest.fixture
def other(port):
    return Stage.objects.get(job__key="j2", key="port")


def report(client, stage, **given):
    return client.post(f"/route/stages/{stage.pk}/", given)


def test_the_wrong_boat_is_asked_about_and_counts_once_it_is_meant(
    client, rook, port, other
):
    client.force_login(rook)
    answer = report(client, other, do="start", at="11:05", on="2027-05-24")
    assert answer.status_code == 409
    assert "Your route is at Second Wind" in answer.text
    assert "Yes, I am at Curlew</button>" in answer.text
    assert Stage.objects.get(pk=other.pk).state == "to-do"
    # The question stands before the buttons of the visit it is about.
    form = forms.on(answer.text, action=f"/route/stages/{other.pk}/")
    meant = form.sends | {"do": form.sends.get("do", "start")}
    assert (meant["at"], meant["sure"]) == ("11:05", "yes")
    assert client.post(form.attributes["action"], meant).status_code == 302
    assert Stage.objects.get(pk=other.pk).started_at == posted.at("11:05")
    assert HistoryEntry.objects.filter(verb="sure-of-boat").count() == 1


def test_the_next_boat_counts_at_once(client, rook, port):
    client.force_login(rook)
    assert report(client, port, do="start").status_code == 302


def test_a_report_is_taken_back_and_put_to_the_other_boat(client, rook, port, other):
    client.force_login(rook)
    assert "Wrong boat, or a slip?" not in client.get("/route/").text
    report(client, port, do="start")
    page = client.get("/route/").text
    assert "Second Wind was started at Mon 11:10" in page
    assert f'<option value="{other.pk}">Curlew: Spray port, two coats</option>' in page
    back = f"/route/stages/{port.pk}/back/"
    assert client.post(back, {"other": str(other.pk)}, follow=True).status_code == 200
    assert Stage.objects.get(pk=port.pk).state == "to-do"
    assert Stage.objects.get(pk=other.pk).started_at == posted.at("11:10")


def test_what_cannot_be_taken_back_says_why(client, rook, port):
    client.force_login(rook)
    answer = client.post(f"/route/stages/{port.pk}/back/")
    assert answer.status_code == 400
    assert "Nothing was reported of Spray port, two coats today" in answer.text
    report(client, port, do="start")
    answer = client.post(f"/route/stages/{port.pk}/back/", {"other": "999"})
    assert (answer.status_code, "begun already" in answer.text) == (400, True)


def test_strangers_may_not(client, rook, port):
    report_back = f"/route/stages/{port.pk}/back/"
    assert client.post(report_back).status_code == 302
    client.force_login(people.nobodys())
    assert client.post(report_back).status_code == 403
