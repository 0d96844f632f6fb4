"""What is refused comes back to its form with all that was typed, the sentence beside it; once, and nothing secret."""

from dataclasses import dataclass, field

import pytest
from django.test import Client

from dispatch.actions import book, plugins, still
from dispatch.records.models import Account, DayOff, JobKind
from tests.actions import plans, shop, test_overruling
from tests.actions.test_appointments import posted  # noqa: F401 - a fixture
from tests.actions.test_house_rules import LONG
from tests.actions.test_moves import placed
from tests.web import forms, people

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
MOVES = "/week/why/j1.wash/moves/"
WHY = "The yard's “quiet day”, & she waits."
visit = test_overruling.visit


@dataclass(frozen=True, kw_only=True)
class Case:
    """A form of a page: what is sent to it, what it says, and beside which field."""

    page: str
    to: str
    sent: dict[str, str]
    says: str
    at: str
    lost: set[str] = field(default_factory=set)


@pytest.fixture
def owner(client):
    account = people.owner()
    client.force_login(account)
    return account


def refused(client, case: Case) -> tuple[str, forms.Sendable]:
    """Send it, and be led back: the page, and its form."""
    shown = forms.on(client.get(case.page).text, action=case.to).sends
    sent = {n: v for n, v in shown.items() if n != "photos"} | case.sent
    answer = client.post(case.to, sent)
    assert answer.url.partition("#")[0] == case.page
    page = client.get(case.page).text
    form = forms.on(page, action=case.to)
    told = forms.beside(page, form, case.at)
    assert case.says in told, told
    assert form.fields[case.at]["aria-invalid"] == "true"
    kept = {n: v for n, v in case.sent.items() if n not in case.lost}
    assert {name: form.sends.get(name) for name in kept} == kept
    assert case.says not in client.get(case.page).text
    return page, form


HOUSE = {
    "days away": Case(
        page="/people/rook/",
        to="/people/rook/away/",
        sent={
            "first": "2027-06-10",
            "last": "2027-06-08",
            "start": "09:00",
            "end": "12:00",
            "reason": WHY,
        },
        says="Put the later day last.",
        at="first",
    ),
    "days off the road": Case(
        page="/wheels/vans/knot/",
        to="/wheels/vans/knot/off/",
        sent={"first": "2027-06-10", "last": "2027-06-08", "reason": WHY},
        says="Put the later day last.",
        at="first",
    ),
    "a sign-in": Case(
        page="/people/rook/",
        to="/people/rook/sign-in/",
        sent={"password": "hatch"},
        says="too short",
        at="password",
        lost={"password"},
    ),
    "her numbers": Case(
        page="/boats/second-wind/",
        to="/boats/second-wind/marks/",
        sent={"registration": "ME 1234 AB", "hull_number": "ABC" * 9},
        says="A hull number has at most 20 characters",
        at="hull_number",
    ),
    "photos": Case(
        page="/boats/second-wind/card/",
        to="/boats/second-wind/photos/",
        sent={"words": WHY},
        says="No photo was chosen.",
        at="photos",
    ),
    "a job's state": Case(
        page="/jobs/j1/terms/",
        to="/jobs/j1/move/",
        sent={"to": "put-off", "why": WHY, "seen": "asked"},
        says="is agreed meanwhile",
        at="why",
        lost={"to", "seen"},
    ),
    "left out": Case(
        page=f"{MOVES}?week=2027-05-24",
        to=f"{MOVES}leave-out/",
        sent={"why": WHY},
        says="Let it go on first.",
        at="why",
    ),
    "swapped": Case(
        page=f"{MOVES}?week=2027-05-24",
        to=f"{MOVES}swap/",
        sent={"out": "teague", "into": "rook"},
        says="Let it go on first.",
        at="out",
    ),
    "a test": Case(
        page="/plugins/notify_file/",
        to="/plugins/notify_file/test/",
        sent={"to": "x" * 60},
        says="Say whom the test goes to",
        at="to",
    ),
}


@pytest.fixture
def house(owner, tmp_path, settings):
    """A washed boat in a draft, everything held still."""
    settings.DATA_DIR = tmp_path
    plans.wash(plans.outfit())
    plan = placed()
    plugins.enable("notify_file", {"file": str(tmp_path / "out.jsonl")})
    still.hold(by=owner, why="Fog.")
    return plan


@pytest.mark.parametrize("what", HOUSE)
def test_nothing_that_was_typed_is_lost(client, house, what):
    page, _ = refused(client, HOUSE[what])
    assert "hatch" not in page


def test_what_lies_folded_is_laid_open(client, house):
    for what in ("days away", "days off the road"):
        page, _ = refused(client, HOUSE[what])
        assert "<details open><summary>Enter days" in page


def test_where_a_visit_was_to_be_put_is_tried_again(client, house):
    sent = {"plan": house.pk, "van": "knot", "day": "2027-05-27", "at": "11:35", "who": ["rook"]}  # fmt: skip
    answer = client.post(f"{MOVES}put/", sent)
    page = client.get(answer.url).text
    assert "Let it go on first." in page
    form = forms.on(page, of="put")
    assert (form.sends["day"], form.sends["at"]) == ("2027-05-27", "11:35")


def test_a_reason_for_a_week_that_breaks_a_rule_comes_back(client, owner):
    plans.coat(plans.outfit())
    draft = plans.draft([LONG])
    case = Case(
        page=f"/week/{plans.MONDAY}/",
        to=f"/week/plan/{draft.pk}/post/",
        sent={"why": "so"},
        says="Say why",
        at="why",
    )
    refused(client, case)


def test_an_appointment_comes_back_as_it_was_written(client, owner, posted):  # noqa: F811
    client.force_login(owner)
    case = Case(
        page="/jobs/j1/terms/",
        to="/jobs/j1/appointment/",
        sent={"to": "2026-05-27T10:30", "why": WHY},
        says="has gone by",
        at="to",
    )
    refused(client, case)


def test_a_reason_to_overrule_comes_back_to_its_rule(client, visit, owner):
    case = Case(
        page="/week/why/j1.starboard/",
        to="/week/why/j1.starboard/overrule/?week=2027-05-24",
        sent={"code": "sun", "why": "so"},
        says="Say why, in",
        at="why",
    )
    client.get(case.page)
    client.post(case.to, case.sent)
    page = client.get(case.page).text
    form = forms.on(page, of="overrule")
    assert form.sends["why"] == "so"
    assert case.says in forms.beside(page, form, "why")


def test_money_taken_out_without_a_reason_is_told_beside_it(client, owner):
    shop.outfit()
    shop.catalogue()
    boat = shop.boat(shop.driveway())
    job = book.take_job(
        key="j1", boat=boat, kind=JobKind.objects.get(key="wash"), price_cents=9200
    )
    for words in ("wax", "tape"):
        job.extras.create(on="2027-05-24", words=words, cents=500)
    second = job.extras.get(words="tape")
    case = Case(
        page="/jobs/j1/money/",
        to=f"/jobs/j1/money/extra/{second.pk}/out/",
        sent={"why": " "},
        says="Say why",
        at="why",
    )
    page, _ = refused(client, case)
    assert page.count('aria-invalid="true"') == 1


def test_a_reason_whose_form_is_gone_is_shown_all_the_same(client, house):
    to = f"/week/{plans.MONDAY}/still/"
    client.post(to, {"why": WHY})
    page = client.get(f"/week/{plans.MONDAY}/").text
    assert "Everything is held still already." in page
    assert "You wrote: “The yard&#x27;s “quiet day”, &amp; she waits.”" in page


def test_it_waits_for_its_own_page_and_is_shown_nowhere_else(client, house):
    client.post("/people/rook/away/", HOUSE["days away"].sent)
    assert "Put the later day last." not in client.get("/people/teague/").text
    client.post("/people/rook/away/", {"back": "2027-06-10"})
    page = client.get("/people/rook/").text
    assert "is not away on" in page
    assert "<details open><summary>Enter days" not in page


def test_a_refusal_of_a_button_is_an_alert_at_the_head(client, house):
    client.post(f"/week/plan/{house.pk}/post/")
    page = client.get(f"/week/{plans.MONDAY}/").text
    head = page.partition('<main id="main" tabindex="-1">')[2][:400]
    assert 'class="notice error" role="alert"' in head


def test_who_was_signed_out_meanwhile_finds_the_page_and_the_words_again(client, house):
    page = f"{MOVES}?week=2027-05-24"
    client.logout()
    came = {"Referer": f"http://testserver{page}"}
    answer = client.post(f"{MOVES}leave-out/", {"why": WHY}, headers=came)
    assert answer.url == f"/sign-in/?next={MOVES}%3Fweek%3D2027-05-24"
    asked = client.get(answer.url)
    assert WHY[-9:] not in asked.text
    sent = {"username": "orla", "password": people.PASSWORD, "next": page}
    assert client.post("/sign-in/", sent).url == page
    told = client.get(page).text
    assert "You were signed out, so nothing was stored." in told
    assert "You wrote: “The yard" in told
    assert "You wrote" not in client.get(page).text


AWAY = HOUSE["days away"].sent | {"last": "2027-06-12"}


def test_who_was_signed_out_meanwhile_sends_all_of_the_form_by_one_button(
    client, house
):
    came = {"Referer": "http://testserver/people/rook/"}
    client.logout()
    client.post("/people/rook/away/", AWAY, headers=came)
    client.force_login(Account.objects.get(username="orla"))
    page = client.get("/people/rook/").text
    form = forms.on(page, of="unread")
    assert form.attributes["action"] == "/people/rook/away/"
    assert form.sends == AWAY
    client.post("/people/rook/away/", form.sends)
    assert DayOff.objects.filter(person__key="rook").exists()


def test_nothing_secret_is_kept_of_a_form_nobody_read(client, house):
    client.logout()
    for to, name in (
        ("/people/rook/sign-in/", "password"),
        ("/plugins/notify_email/", "secret:password"),
    ):
        client.post(to, {name: "hatch-and-hawser", "why": WHY})
        kept = str(dict(client.session.items()))
        assert "hatch-and-hawser" not in kept
        assert "Choose or write again: " in kept


def test_whoever_signs_in_and_may_not_read_the_page_sees_nothing_of_it(client, house):
    client.logout()
    came = {"Referer": "http://testserver/people/rook/"}
    client.post("/people/rook/away/", AWAY, headers=came)
    client.force_login(people.nobodys())
    assert "yard" not in client.get("/people/rook/").text
    client.force_login(Account.objects.get(username="orla"))
    assert "You wrote" not in client.get("/people/rook/").text


def test_a_form_loaded_before_the_last_sign_in_comes_back_whole(house):
    client = Client(enforce_csrf_checks=True)
    client.force_login(Account.objects.get(username="orla"))
    client.get("/people/rook/")
    to, came = "/people/rook/away/", {"Referer": "http://testserver/people/rook/"}
    old = AWAY | {"csrfmiddlewaretoken": "a" * 64}
    answer = client.post(to, old, headers=came)
    assert answer.url == "/people/rook/"
    page = client.get(answer.url).text
    assert "You signed in again after this page was loaded" in page
    assert forms.on(page, of="unread").sends == AWAY
    assert not DayOff.objects.exists()
    elsewhere = {"Referer": "http://elsewhere.example/"}
    assert client.post(to, old, headers=elsewhere).status_code == 403
    assert "You wrote" not in client.get("/people/rook/").text
    script = came | {"X-Requested-With": "fetch"}
    assert client.post(to, old, headers=script).status_code == 401


def test_a_form_that_came_from_elsewhere_leads_nowhere_else(client, house):
    client.logout()
    came = {"Referer": "http://elsewhere.example/week/"}
    answer = client.post(f"{MOVES}leave-out/", {"why": WHY}, headers=came)
    assert answer.url == f"/sign-in/?next={MOVES}leave-out/"
