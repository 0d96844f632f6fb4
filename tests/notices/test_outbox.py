"""The outbox: a fact is put in once, claimed by one caller, dropped when overtaken, put back when unsent."""

from datetime import timedelta

import pytest
from django.db import IntegrityError, transaction

from dispatch.notices import outbox
from dispatch.records.models import Job, JobKind, Notice, Person
from tests.actions import shop

pytestmark = [pytest.mark.django_db, pytest.mark.services]
NOW = shop.NOW
LATER = NOW + timedelta(minutes=6)
ALL = ("email", "text")


@pytest.fixture
def job():
    shop.outfit()
    shop.catalogue()
    return Job.objects.create(
        key="j1",
        boat=shop.boat(shop.driveway()),
        kind=JobKind.objects.get(key="wash"),
        taken_at=NOW,
    )


def put(job, *, channel="text", **changes):
    given = {
        "reason": "arrival",
        "fact": "j1 visit 2027-05-24",
        "version": "08:00",
        "to_whom": job.boat.customer,
        "job": job,
        "subject": "Monday",
        "body": "We come on Monday.",
        "due_at": NOW,
    }
    fact = outbox.Fact(**(given | changes))
    return outbox.put(fact, channel=channel, to="+12075550131")


def claim(at=NOW, wall=NOW):
    return list(outbox.claim(at, wall, channels=ALL))


def state(notice):
    return Notice.objects.get(pk=notice.pk).state


def test_the_same_fact_is_put_in_once_by_each_channel(job):
    assert put(job) == put(job, body="In other words.")
    put(job, channel="email")
    assert Notice.objects.count() == 2
    assert Notice.objects.get(channel="text").body == "We come on Monday."


def test_a_message_is_to_a_customer_or_to_one_of_the_crew_never_both_nor_nobody(job):
    rook = Person.objects.create(key="rook", name="Rook", initials="RF")
    told = put(job, to_whom=rook)
    assert (told.customer, told.person, told.addressee) == (None, rook, rook)
    assert put(job, to_whom=rook) == told
    # The same fact goes to the customer too.
    assert put(job).addressee == job.boat.customer
    for wrong in ({"customer": job.boat.customer}, {"person": None}):
        with pytest.raises(IntegrityError), transaction.atomic():
            Notice.objects.filter(pk=told.pk).update(**wrong)


def test_a_fact_that_went_out_is_not_put_in_again(job):
    (sent,) = [put(job)] and claim()
    outbox.settle(sent, "sent", "ok", NOW)
    put(job)
    assert claim() == []


def test_a_newer_version_drops_the_one_that_waits(job):
    old, new = put(job), put(job, version="09:30")
    assert (state(old), state(new)) == ("dropped", "waiting")
    assert claim() == [new]


def test_a_version_that_comes_back_before_anything_went_out_is_told(job):
    put(job)
    put(job, version="09:30")
    back = put(job)
    assert [notice.pk for notice in claim()] == [back.pk]
    assert outbox.version_of(back) == "08:00"
    assert put(job) == back


def test_a_version_that_comes_back_after_another_was_told_is_told_again(job):
    for version in ("08:00", "09:30", "08:00"):
        put(job, version=version)
        (sent,) = claim()
        outbox.settle(sent, "sent", "ok", NOW)
    put(job)
    assert claim() == []
    told = [outbox.version_of(notice) for notice in Notice.objects.order_by("pk")]
    assert told == ["08:00", "09:30", "08:00"]


def test_a_newer_version_does_not_unsend_what_went_out(job):
    old = put(job)
    claim()
    outbox.settle(old, "sent", "ok", NOW)
    put(job, version="09:30")
    assert state(old) == "sent"


def test_two_callers_claim_a_message_once(job):
    put(job)
    first, second = (
        outbox.claim(NOW, NOW, channels=ALL),
        outbox.claim(NOW, NOW, channels=ALL),
    )
    claimed = next(first)
    assert (claimed.state, claimed.attempts) == ("claimed", 1)
    assert list(second) == []
    assert list(first) == []


def test_two_callers_that_saw_the_same_messages_share_them_out(job):
    for number in range(4):
        put(job, fact=f"j1 visit {number}")
    first, second = (
        outbox.claim(NOW, NOW, channels=ALL),
        outbox.claim(NOW, NOW, channels=ALL),
    )
    shared = [next(first), next(second), *first, *second]
    assert len({notice.pk for notice in shared}) == len(shared) == 4


def test_nothing_is_claimed_before_it_is_due(job):
    put(job, due_at=LATER)
    assert claim() == []
    assert len(claim(at=LATER)) == 1


def test_a_claim_of_a_worker_that_died_is_taken_over_after_five_minutes(job):
    put(job)
    claim()
    assert claim(wall=NOW + timedelta(minutes=4)) == []
    (again,) = claim(wall=LATER)
    assert again.attempts == 2


def test_what_is_certainly_unsent_is_put_back_and_claimed_again(job):
    put(job)
    (claimed,) = claim()
    outbox.release(claimed, "no such plugin", NOW)
    assert state(claimed) == "waiting"
    assert claim() == [claimed]


@pytest.mark.parametrize("became", ["sent", "refused", "unknown"])
def test_what_is_settled_is_neither_put_back_nor_claimed_again(job, became):
    put(job)
    (claimed,) = claim()
    outbox.settle(claimed, became, "x" * 300, NOW)
    outbox.release(claimed, "too late", NOW)
    outbox.settle(claimed, "refused", "too late", NOW)
    told = Notice.objects.get()
    assert (told.state, len(told.said), told.settled_at) == (became, 200, NOW)
    assert claim(wall=LATER) == []


def test_facts_no_longer_so_are_dropped_and_the_others_kept(job):
    gone, kept = put(job), put(job, fact="j1 visit 2027-05-26")
    pickup = put(job, reason="pickup", fact="j1 pickup")
    later = put(job, fact="j1 visit 2027-06-02")
    days = {"2027-05-24", "2027-05-25", "2027-05-26"}
    keep = {"j1 visit 2027-05-26"}
    assert outbox.drop(["arrival"], days=days, keep=keep) == 1
    assert state(gone) == "dropped"
    assert {state(one) for one in (kept, pickup, later)} == {"waiting"}
