"""The form that puts an amount right: who may send it, what it changes, what it refuses."""

import pytest

from dispatch.actions import reporting
from dispatch.records.models import Can, Laid, Outfit, Sheet
from dispatch.trade import units
from tests.actions import posted
from tests.web import forms, people

pytestmark = pytest.mark.django_db


@pytest.fixture
def rook():
    return people.crew()


@pytest.fixture
def port(rook):
    """Port, done at 12:40 with 14.5 oz by report, out of one can of 32."""
    stage = posted.sprayed().stages.get(key="port")
    posted.visit(posted.van_day(rook.person), stage, "11:00", 90)
    Can.objects.create(sheet=Sheet.objects.get(), left_ml=units.oz_to_ml(32))
    posted.stand("13:00")
    reporting.finish(stage, rook.person, posted.at("12:40"), 14.5)
    return stage


def send(client, stage, **given):
    return client.post(f"/route/stages/{stage.pk}/amount/", given)


def used():
    return round(units.ml_to_oz(Laid.objects.get().used_ml), 1)


def test_the_page_tells_what_it_took_and_the_form_puts_it_right(client, rook, port):
    client.force_login(rook)
    page = client.get("/route/?day=2027-05-24").text.replace("\xa0", " ")
    assert "Product used: 14.5 oz" in page
    assert "All of it really took, oz" in page
    assert send(client, port, coat="0", amount="16").status_code == 302
    assert used() == 16
    assert units.ml_to_oz(Can.objects.get().left_ml) == pytest.approx(16)


def test_metric_people_enter_millilitres(client, rook, port):
    Outfit.objects.update(units="metric")
    client.force_login(rook)
    send(client, port, coat="0", amount="500")
    assert Laid.objects.get().used_ml == pytest.approx(500)


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"coat": "0"}, "No amount was written"),
        ({"coat": "0", "amount": "some"}, "some is not an amount"),
        ({"coat": "0", "amount": "-3"}, "cannot be right"),
        ({"coat": "1", "amount": "3"}, "is not reported yet"),
        ({"coat": "x", "amount": "3"}, "not known which coat"),
    ],
)
def test_a_refusal_stands_at_the_form_and_nothing_is_kept(
    client, rook, port, given, said
):
    client.force_login(rook)
    answer = send(client, port, **given)
    assert answer.status_code == 400
    assert answer.text.count(said) == 1
    assert used() == 14.5


def test_strangers_are_sent_away(client, port):
    given = {"coat": "0", "amount": "3"}
    assert send(client, port, **given).url.startswith("/sign-in/")
    for stranger in (people.nobodys(), posted.person("eve").account):
        client.force_login(stranger)
        assert send(client, port, **given).status_code == 403
    assert used() == 14.5


def test_a_refused_amount_stays_in_its_field_with_the_sentence_beside_it(
    client, rook, port
):
    client.force_login(rook)
    page = send(client, port, coat="0", amount="some").text
    form = forms.on(page, action=f"/route/stages/{port.pk}/amount/")
    assert form.sends["amount"] == "some"
    assert "some is not an amount" in forms.beside(page, form, "amount")
    assert page.count('role="alert"') == 1
