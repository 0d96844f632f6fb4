"""The board's snag of work that overran: its offers with a tap or a link each, and another grade by the owner's tap."""

import pytest

from dispatch.actions import mends, took
from dispatch.records.models import Account, Job, Outfit, Stage
from tests.actions import plans
from tests.actions.test_overran import INSIDE, job, masked_until, standing
from tests.web import people

__all__ = ["job", "standing"]
pytestmark = pytest.mark.django_db
WEEK = "/week/2027-05-24/"


@pytest.fixture
def over(standing):
    masked_until("09:30")
    Outfit.objects.update(stands_at=plans.at(25, "09:31"))
    return standing


@pytest.fixture
def orla(over):
    return Account.objects.get(role="owner")


def test_an_offer_leads_to_its_page_until_it_is_priced(client, over, orla):
    client.force_login(orla)
    told = client.get(WEEK).text
    assert "“Mask and drape” took 1 h 30 instead of 55 min, 35 min over" in told
    assert "Add hands to Interior and stainless." in told
    assert f'<a href="/week/why/{INSIDE}/moves/?week=2027-05-24">Put it elsewhere by hand' in told  # fmt: skip
    mends.price(str(over.pk))
    told = client.get(WEEK).text
    assert "“Interior and stainless” on Tuesday at 09:35 with Plover" in told
    assert "Put it there in a draft<span" in told


def test_another_grade_is_one_tap_and_the_price_stays(client, over, orla):
    client.force_login(orla)
    assert "Grade her 3 instead of 2, if that is what she is" in client.get(WEEK).text
    price, finish = Job.objects.get().price_cents, Stage.objects.get(key="finish")
    told = client.post(f"{WEEK}regrade/j1/", {"grade": "3"}, follow=True).text
    assert "Second Wind is graded 3, was 2" in told
    assert "The price stays as agreed" in told
    assert (Job.objects.get().grade, Job.objects.get().price_cents) == (3, price)
    assert took.labour(Stage.objects.get(key="finish")) > took.labour(finish)
    assert "Grade her 4 instead of 3" in told


@pytest.mark.parametrize("grade", ["", "7", "x", "2"])
def test_no_grade_is_refused_in_words(client, over, orla, grade):
    client.force_login(orla)
    told = client.post(f"{WEEK}regrade/j1/", {"grade": grade}, follow=True).text
    assert "Nothing was changed." in told
    assert Job.objects.get().grade == 2


def test_only_the_owner_grades(client, over):
    client.force_login(people.nobodys())
    assert client.post(f"{WEEK}regrade/j1/", {"grade": "3"}).status_code == 403
    assert Job.objects.get().grade == 2
