"""The owner sees what became of each message, and settles what is to be asked about; nobody else does."""

from datetime import timedelta

import pytest

from dispatch.actions import calling, still
from dispatch.notices import outbox
from dispatch.records.models import Customer, HistoryEntry, JobKind, Notice, Outfit
from tests.actions import shop
from tests.web import people

pytestmark = pytest.mark.django_db
PAGE = "/messages/"


@pytest.fixture
def job():
    shop.outfit()
    shop.catalogue()
    kind = JobKind.objects.get(key="wash")
    boat = shop.boat(shop.driveway())
    return boat.jobs.create(key="j1", kind=kind, taken_at=shop.NOW)


@pytest.fixture
def owner(client, job):
    account = people.owner()
    client.force_login(account)
    return account


def message(job, state="unknown", said="the line broke", number=1) -> Notice:
    fact = outbox.Fact(
        reason="moved",
        fact=f"j1 visit {number}",
        version="1",
        to_whom=job.boat.customer,
        job=job,
        subject="Monday",
        body=f"We come <soon> {number}.",
        due_at=shop.NOW,
    )
    made = outbox.put(fact, channel="text", to="+12075550131")
    Notice.objects.filter(pk=made.pk).update(state=state, said=said)
    return made


def state(notice) -> str:
    return Notice.objects.get(pk=notice.pk).state


def test_what_needs_a_hand_stands_first(client, job, owner):
    for number, one in enumerate(("sent", "waiting", "refused", "unknown", "dropped")):
        message(job, one, said=f"said {one}", number=number)
    page = client.get(PAGE).text
    heads = ["Ask whether these came", "Refused", "Waiting", "Sent", "Not sent"]
    places = [page.index(f">{head} <") for head in heads]
    assert places == sorted(places)
    assert "We come &lt;soon&gt; 3." in page
    assert "said refused" in page
    assert page.count("It did not come: send it again</button>") == 1


def test_what_came_is_counted_as_sent(client, job, owner):
    asked = message(job)
    assert (
        "Counted as sent."
        in client.post(f"{PAGE}{asked.pk}/", {"came": "yes"}, follow=True).text
    )
    assert state(asked) == "sent"
    line = HistoryEntry.objects.get(verb="asked-about")
    assert line.sentence.endswith("about “Monday”: it came.")


def test_what_did_not_come_goes_out_again_once(client, job, owner):
    asked = message(job)
    for _ in range(2):
        answer = client.post(f"{PAGE}{asked.pk}/", {"came": "no"}, follow=True)
    assert "What became of this message is known by now." in answer.text
    (again,) = outbox.claim(shop.NOW, shop.NOW, channels=["text"])
    assert again.pk == asked.pk
    assert HistoryEntry.objects.filter(verb="asked-about").count() == 1


@pytest.mark.parametrize("was", ["sent", "refused", "waiting", "claimed", "dropped"])
def test_what_is_known_is_not_settled_by_an_old_page(client, job, owner, was):
    known = message(job, was)
    client.post(f"{PAGE}{known.pk}/", {"came": "no"})
    assert state(known) == was


def test_what_waits_too_long_is_marked(client, job, owner):
    message(job, "waiting", said="")
    assert ">Late<" not in client.get(PAGE).text
    Outfit.objects.update(stands_at=shop.NOW + timedelta(minutes=11))
    assert ">Late<" in client.get(PAGE).text


def test_what_is_held_still_waits_for_its_owner_and_not_for_a_plugin(
    client, job, owner
):
    message(job, "waiting")
    Outfit.objects.update(stands_at=shop.NOW + timedelta(minutes=11))
    still.hold(by=owner, why="A boat is half sprayed")
    page = client.get(PAGE).text
    assert "Everything is held still since" in page
    assert "A boat is half sprayed. No message leaves" in page
    assert ">Late<" not in page


def test_without_a_message_the_page_says_when_there_will_be_one(client, owner):
    assert "There is no message yet." in client.get(PAGE).text


def test_all_that_was_sent_is_one_press_away_and_read_page_by_page(client, job, owner):
    for number in range(42):
        message(job, "sent", number=number)
    page = client.get(PAGE).text
    assert 'href="?of=sent">All 42 sent<' in page
    assert page.count("We come &lt;soon&gt;") == 5
    first, second = (
        client.get(f"{PAGE}?of=sent&page={number}").text for number in (1, 2)
    )
    assert first.count("We come &lt;soon&gt;") == 40
    assert "Page 1 of 2" in first
    assert "Page 2 of 2" in second
    assert second.count("We come &lt;soon&gt;") == 2


def test_a_group_that_does_not_exist_is_not_found(client, owner):
    assert client.get(f"{PAGE}?of=nothing").status_code == 404


def test_a_text_and_an_e_mail_of_one_fact_stand_in_one_line(client, job, owner):
    text = message(job, "waiting", said="")
    fact = outbox.Fact(
        reason=text.reason,
        fact=text.fact,
        version=text.version,
        to_whom=job.boat.customer,
        job=job,
        subject="Monday",
        body="We come <soon>, by e-mail.",
        due_at=shop.NOW,
    )
    outbox.put(fact, channel="email", to="ames@example.com")
    page = client.get(PAGE).text
    assert page.count('<details class="told">') == 1
    assert "text, e-mail</span>" in page
    assert "We come &lt;soon&gt;, by e-mail." in page
    assert 'Waiting <span class="small">2<' in page


def test_what_needs_a_hand_is_counted_at_the_head(client, job, owner):
    calm = "Nobody to call now; no message refused, late or in doubt."
    message(job, "waiting", said="")
    assert calm in client.get(PAGE).text
    calling.ask(job, "Her visit is off.", "Call {customer} by hand.")
    message(job, "refused", number=2)
    message(job, "unknown", number=3)
    failed = message(job, "sent", number=4)
    Notice.objects.filter(pk=failed.pk).update(delivery="failed", delivery_at=shop.NOW)
    Outfit.objects.update(stands_at=shop.NOW + timedelta(minutes=11))
    page = client.get(PAGE).text
    assert calm not in page
    for said in ("to call by hand", "to ask about", "that did not arrive", "refused"):
        assert f"<strong>1</strong> {said}<" in page
    assert "1 message should have gone out since Sun 23 May 19:00" in page


def test_what_was_refused_days_ago_asks_for_nothing_and_is_kept(client, job, owner):
    message(job, "refused")
    failed = message(job, "sent", number=2)
    Notice.objects.filter(pk=failed.pk).update(delivery="failed", delivery_at=shop.NOW)
    Notice.objects.update(settled_at=shop.NOW - timedelta(days=3, minutes=1))
    page = client.get(PAGE).text
    assert "Nobody to call now; no message refused, late or in doubt." in page
    assert "refused more than 3 days ago" in page
    assert page.count('class="mark">Did not arrive<') == 1
    assert page.count('class="mark">Refused<') == 1


@pytest.mark.parametrize("make", [people.crew, people.nobodys])
def test_nobody_else_sees_or_settles_them(client, job, make):
    asked = message(job)
    client.force_login(make())
    assert client.get(PAGE).status_code == 403
    assert client.post(f"{PAGE}{asked.pk}/", {"came": "yes"}).status_code == 403
    assert state(asked) == "unknown"


def test_a_stranger_is_asked_to_sign_in(client, job):
    asked = message(job)
    assert client.get(PAGE).url == f"/sign-in/?next={PAGE}"
    assert client.post(f"{PAGE}{asked.pk}/", {"came": "yes"}).status_code == 302
    assert state(asked) == "unknown"


def test_whom_to_call_by_hand_stands_first_and_goes_once_called(client, owner, job):
    calling.ask(job, "Her visit is off.", "Call {customer} by hand.")
    Customer.objects.update(phone="+12075550131")
    page = client.get(PAGE).text
    assert "Her visit is off. Call Ames by hand." in page
    assert "tel:+12075550131" in page
    answer = client.post(f"{PAGE}called/j1/", follow=True).text
    assert "Put down: Ames was called." in answer
    assert "Her visit is off." not in answer
    assert "any more" in client.post(f"{PAGE}called/j1/", follow=True).text


def test_nobody_else_puts_down_a_call(client, job):
    calling.ask(job, "Her visit is off.", "Call {customer} by hand.")
    client.force_login(people.crew())
    assert client.post(f"{PAGE}called/j1/").status_code == 403
    assert len(list(calling.cards())) == 1
