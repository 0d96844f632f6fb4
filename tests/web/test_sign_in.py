"""In and out: each person to their own start, guesses rest, refusals are plain sentences."""

import pytest

from tests.actions import plans, shop
from tests.web import people

pytestmark = pytest.mark.django_db
WRONG = "not-the-password"


def sign_in(client, name, password=people.PASSWORD):
    return client.post("/sign-in/", {"username": name, "password": password})


@pytest.mark.parametrize(
    ("make", "start"), [(people.owner, "/start/steps/"), (people.crew, "/route/")]
)
def test_each_person_starts_at_their_own_page(client, make, start):
    account = make()
    answer = sign_in(client, account.username)
    assert answer.url == "/"
    assert client.get("/").url == start


def test_once_a_week_was_built_its_owner_starts_there(client):
    plans.coat(plans.outfit())
    plans.draft([(28, "07:30", "11:30", [("j1.mask", "07:40", "08:35")])])
    client.force_login(people.owner())
    assert client.get("/").url == "/week/"


def test_who_was_going_somewhere_is_taken_there(client):
    people.owner()
    answer = client.post(
        "/sign-in/",
        {"username": "orla", "password": people.PASSWORD, "next": "/week/2027-05-24/"},
    )
    assert answer.url == "/week/2027-05-24/"


def test_nobodys_account_is_refused_in_a_sentence(client):
    client.force_login(people.nobodys())
    answer = client.get("/")
    assert answer.status_code == 403
    assert "This page is for people of the crew." in answer.text


def test_a_stranger_at_the_start_is_asked_to_sign_in(client):
    assert client.get("/").url == "/sign-in/?next=/"


def test_a_wrong_password_says_what_to_do(client):
    people.owner()
    answer = sign_in(client, "orla", WRONG)
    assert "do not go together" in answer.text


def test_eight_wrong_passwords_rest_the_name(client):
    people.owner()
    for _ in range(8):
        answer = sign_in(client, "orla", WRONG)
    assert answer.status_code == 429
    assert "rests for 15 minutes" in answer.text
    assert "rests for 15 minutes" in sign_in(client, "orla").text
    assert client.get("/").url.startswith("/sign-in/")


def test_signing_out_ends_the_visit(client):
    client.force_login(people.owner())
    assert client.post("/sign-out/").url == "/sign-in/"
    assert client.get("/").url.startswith("/sign-in/")


def test_a_missing_page_says_so_in_plain_words(client):
    answer = client.get("/nowhere/")
    assert answer.status_code == 404
    assert "There is nothing at this address" in answer.text


def test_the_stylesheet_is_found(client):
    shop.outfit()
    assert "leeboard/paper.css" in client.get("/sign-in/").text
    found = client.get("/static/leeboard/paper.css")
    assert found.status_code == 200
    found.close()
