"""What a customer answers on the page of their boat: who may, what the owner sees, who is to be called."""

from urllib.parse import urlsplit

import pytest

from dispatch.actions import calling, show_boat
from dispatch.records.models import HistoryEntry, Job
from tests.actions import posted
from tests.web import forms, people

pytestmark = pytest.mark.django_db


@pytest.fixture
def job():
    made = posted.sprayed()
    rider = posted.person("teague")
    posted.visit(posted.van_day(rider), made.stages.get(key="port"), "10:03", 90)
    posted.stand("13:00")
    return made


@pytest.fixture
def link(job):
    return urlsplit(show_boat.link(job)).path


def say(client, link, what, words=""):
    given = {"answer": what, "words": words}
    return client.post(f"{link}answer/", given, follow=True)


def test_that_somebody_will_be_there_reaches_the_owner(client, link, job):
    told = say(client, link, "there", "the dog\n is in").text
    assert "Thank you, we have it." in told
    assert "You told us Mon 24 May, 13:00: I&#x27;ll be there. &quot;the dog" in told
    row = HistoryEntry.objects.get(verb="customer-answer")
    assert row.sentence == 'Ames, of Second Wind: will be there. "the dog is in"'
    assert row.actor == "Ames"
    assert not list(calling.cards())
    client.force_login(people.owner())
    assert "will be there" in client.get("/history/").text


@pytest.mark.parametrize(
    ("what", "told"),
    [("call", "Wants to be called."), ("not-then", "That day will not do.")],
)
def test_who_wants_to_be_called_is_put_among_those_to_call(
    client, link, job, what, told
):
    say(client, link, what, "after six")
    (card,) = calling.cards()
    assert card.job == job
    assert card.why == (f'{told} "after six"',)
    client.force_login(people.owner())
    page = client.get("/messages/").text
    assert f"<p>{told} &quot;after six&quot;</p>" in page


@pytest.mark.parametrize(
    ("what", "words", "said"),
    [
        ("", "", "Choose one of the answers."),
        ("gone", "", "Choose one of the answers."),
        ("there", "x" * 301, "Keep it under 300 characters"),
    ],
)
def test_what_will_not_do_is_said_and_nothing_is_kept(client, link, what, words, said):
    answer = say(client, link, what, words)
    assert answer.status_code == 422
    assert said in answer.text
    assert not HistoryEntry.objects.filter(verb="customer-answer").exists()


def test_nobody_fills_the_history_through_a_link(client, link, job):
    for _ in range(12):
        say(client, link, "there")
    assert "Call us, please." in say(client, link, "there").text
    assert HistoryEntry.objects.filter(verb="customer-answer").count() == 12


def test_when_it_is_over_nothing_is_asked_or_taken(client, link, job):
    Job.objects.update(state="called-off")
    assert "That day won" not in client.get(link).text
    assert "This job is over" in say(client, link, "there").text


def test_a_link_that_opens_nothing_takes_nothing(client, job):
    assert say(client, "/boat/Mg:x:y/", "there").status_code == 404
    assert not HistoryEntry.objects.filter(verb="customer-answer").exists()


def test_words_that_will_not_do_stay_in_their_field_with_the_sentence_beside_it(
    client, link
):
    page = say(client, link, "there", "x" * 301).text
    form = forms.on(page, action=f"{link}answer/")
    assert form.sends["words"] == "x" * 301
    assert "Keep it under 300" in forms.beside(page, form, "words")


def test_when_it_is_over_the_words_are_shown(client, link, job):
    Job.objects.update(state="called-off")
    page = say(client, link, "there", "dog & cat").text
    assert "You wrote: “dog &amp; cat”" in page
