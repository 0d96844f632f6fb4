"""What the week did not foresee, told by the owner: what is stored, and what comes of it before it can be planned."""

import pytest

from dispatch.records.models import Boat, DueWork, Week
from tests.actions import plans
from tests.web import people

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]


def test_a_moved_boat_is_said_to_be_judged_before_she_is_planned(client):
    place = plans.outfit()
    plans.wash(place)
    Week.objects.create(starts_on=plans.MONDAY)
    DueWork.objects.all().delete()
    client.force_login(people.owner())
    boat = Boat.objects.get()
    sent = {"boat": boat.key, "place": place.key, "heading": "110", "reference": "true"}
    answer = client.post(f"/week/{plans.MONDAY}/happened/boat/", sent, follow=True)
    told = answer.text
    assert "Her sky is judged anew first, which takes a minute or two" in told
    assert "nobody is told" in told
    assert DueWork.objects.filter(done_at=None).exists()
