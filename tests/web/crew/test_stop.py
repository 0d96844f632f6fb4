"""The crew is stopped before a coat the cans do not do for: the owner is one tap away, and nothing presses to go on."""

import pytest

from dispatch.records.models import Account, Outfit, Person
from tests.actions import plans, test_too_little
from tests.actions.test_stores import can
from tests.web import people

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
visit = test_too_little.visit
DONE = 'value="done" class="main"'


def test_a_stop_calls_the_owner_and_done_is_no_main_button_till_a_can_is_found(
    client, visit
):
    can(54)
    test_too_little.first_on(visit, 31)
    Outfit.objects.update(stands_at=plans.at(25, "11:40"))
    owner = Account.objects.filter(role="owner").first() or people.owner()
    owner.person = Person.objects.create(
        key="orla", name="Orla", initials="OT", phone="+12075550100"
    )
    owner.save()
    rook = visit.van_day.team.get()
    account, _ = Account.objects.get_or_create(
        person=rook, defaults={"username": "rook", "role": "crew"}
    )
    client.force_login(account)
    page = client.get("/route/").text
    stop = page.partition('<p class="big">STOP</p>')[2].partition("</div>")[0]
    assert "8.0\xa0oz short" in stop
    assert 'href="tel:+12075550100">Call the owner</a>' in stop
    assert 'value="done"' in page
    assert DONE not in page
    can(8)
    page = client.get("/route/").text
    assert "STOP" not in page
    assert DONE in page
