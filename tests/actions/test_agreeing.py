"""A customer is told at once that a job is agreed, in the hours people may be written to; and who is called by hand.

Hours and contents are the outfit's own table: at once from 08:00 to 20:30, days, what to prepare, the yard's word.
"""

import pytest

from dispatch.actions import book, calling
from dispatch.actions.errors import Refused, Stranger
from dispatch.records.models import Account, Customer, Job, JobKind, Notice, Person
from tests.actions import posted, shop

pytestmark = pytest.mark.django_db


@pytest.fixture
def boat():
    shop.outfit()
    shop.catalogue()
    place = shop.driveway(gate="Blue gate", sign_in_minutes=8, water=True)
    found = shop.boat(place)
    Customer.objects.update(
        phone="+12075550131", email="ames@example.org", text_consent=True
    )
    Customer.objects.update(email_consent=True)
    return found


@pytest.fixture
def orla():
    return Account.objects.create(username="orla", role="owner")


def take(boat, by, **terms):
    kind = JobKind.objects.get(key="spray-coat")
    fresh = type(boat).objects.get(pk=boat.pk)
    given = {"sheet": shop.one_part()} | terms
    return book.take_job(key="j1", boat=fresh, kind=kind, by=by, **given)


def agreed():
    return Notice.objects.filter(reason="agreed")


def test_it_is_told_at_once_by_text_and_e_mail(boat, orla):
    now = posted.stand("10:00")
    promised = {
        "promise": "range",
        "promised_from": posted.at("07:30"),
        "promised_by": posted.at("17:00", posted.MONDAY.replace(day=28)),
    }
    take(boat, orla, **promised)
    assert sorted(agreed().values_list("channel", flat=True)) == ["email", "text"]
    assert {row.due_at for row in agreed()} == {now}
    letter = agreed().get(channel="email").body
    assert "done between Mon 24 May and Fri 28 May" in letter
    assert "Tell the yard that we come, and that we may work on her." in letter
    assert "Take the cover off" in letter
    assert "Leave the water turned on." in letter
    text = agreed().get(channel="text").body
    assert "Tell the yard" in text


def test_in_the_evening_it_waits_for_the_morning(boat, orla):
    posted.stand("20:40")
    take(boat, orla)
    assert agreed().first().due_at == posted.at("08:00", posted.MONDAY.replace(day=25))


def test_what_is_loaded_or_only_asked_for_is_told_to_nobody(boat, orla):
    posted.stand("10:00")
    take(boat, None)
    assert not agreed().exists()
    Job.objects.all().delete()
    kind = JobKind.objects.get(key="wash")
    book.take_job(key="j2", boat=boat, kind=kind, by=orla, state=Job.State.ASKED)
    assert not agreed().exists()


def card(boat, orla):
    job = take(boat, None)
    calling.ask(job, "Her visit moved.", "Call {customer}.")
    calling.ask(job, "Her visit moved.", "Call {customer}.")
    return job


def test_a_card_says_each_thing_once_and_goes_once_somebody_called(boat, orla):
    job = card(boat, orla)
    (found,) = calling.cards()
    assert found.job == job
    assert found.why == ("Her visit moved. Call Ames.",)
    calling.called("j1", by=orla)
    assert list(calling.cards()) == []
    with pytest.raises(Refused, match="any more"):
        calling.called("j1", by=orla)
    calling.ask(job, "It moved again.", "Call {customer}.")
    assert [one.why for one in calling.cards()] == [("It moved again. Call Ames.",)]


def test_only_the_owner_puts_down_a_call(boat, orla):
    card(boat, orla)
    person = Person.objects.create(key="rook", name="Rook", initials="RF")
    rook = Account.objects.create(username="rook", role="crew", person=person)
    with pytest.raises(Stranger):
        calling.called("j1", by=rook)
    assert len(list(calling.cards())) == 1
