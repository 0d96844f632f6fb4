"""Done after STOP: whether the second coat is on all the same is asked, and the count follows the answer."""

import pytest

from dispatch.records.models import Laid, Sheet, Stage
from dispatch.trade import units
from tests.actions import posted
from tests.actions.test_stores import can, left
from tests.web import forms, people

pytestmark = pytest.mark.django_db


@pytest.fixture
def port(client):
    """Its first coat took 20 of 32 oz, so 12 are left for a second of 20."""
    rook = people.crew()
    job = posted.sprayed()
    posted.warm(job.boat.place)
    Sheet.objects.update(opened_shelf_days=30)
    stage = job.stages.get(key="port")
    Stage.objects.filter(pk=stage.pk).update(product_ml=units.oz_to_ml(40))
    posted.visit(posted.van_day(rook.person), stage, "11:00", 90)
    posted.stand("12:00")
    can(32)
    client.force_login(rook)
    report(client, stage, do="start", at="11:00")
    report(client, stage, do="coat", at="11:30", amount="20")
    return stage


def report(client, stage, **given):
    return client.post(f"/route/stages/{stage.pk}/", given)


def coats():
    rows = Laid.objects.order_by("coat").values_list("coat", "used_ml")
    return [(coat, ml and round(units.ml_to_oz(ml), 1)) for coat, ml in rows]


def test_it_is_asked_about_and_nothing_counts_till_somebody_says_so(client, port):
    answer = report(client, port, do="done")
    assert answer.status_code == 409
    assert "8.0 oz short" in answer.text
    assert "Is the second coat on all the same?" in answer.text
    assert coats() == [(1, 20.0)]
    assert [ounces for ounces, *_ in left()] == [12.0]
    form = forms.on(answer.text, action=f"/route/stages/{port.pk}/")
    meant = form.sends | {"do": "done"}
    assert "Yes, coat 2 is on</button>" in answer.text
    assert client.post(form.attributes["action"], meant).status_code == 302
    assert coats() == [(1, 20.0), (2, None)]


def test_an_amount_that_it_took_is_an_answer(client, port):
    assert report(client, port, do="done", amount="11").status_code == 302
    assert coats() == [(1, 20.0), (2, 11.0)]
    assert [ounces for ounces, *_ in left()] == [1.0]


def test_a_second_coat_that_took_nothing_is_not_laid(client, port):
    answer = report(client, port, do="done", amount="0")
    assert answer.status_code == 400
    assert (
        "so Spray port, two coats is not done. It may follow until Mon " in answer.text
    )
    assert coats() == [(1, 20.0)]
    assert Stage.objects.get(pk=port.pk).state == "under-way"


def test_with_enough_in_the_cans_nobody_is_asked(client, port):
    can(32)
    assert report(client, port, do="done").status_code == 302
    assert coats() == [(1, 20.0), (2, None)]
