"""Every computed figure leads, by one link, to the numbers it was reckoned from and to where its rule stands."""

import re

import pytest

from dispatch.actions import setting_subjects, show_board
from dispatch.records.models import Can, Sheet
from tests.actions import plans, posted
from tests.web import people

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
FRIDAY = (
    28,
    "07:30",
    "16:30",
    [
        ("j1.mask", "07:30", "08:25"),
        ("j1.port-as-she-lies", "09:30", "10:55"),
        ("j1.starboard-as-she-lies", "15:50", "16:15"),
    ],
)


@pytest.fixture
def owner(client):
    account = people.owner()
    client.force_login(account)
    return account


@pytest.fixture
def week(client, owner):
    plans.coat(plans.outfit(), promise="hard", promised_by=plans.at(28, "12:00"))
    Can.objects.create(sheet=Sheet.objects.get(key="one"), left_ml=300)
    return plans.draft([FRIDAY])


def links(text: str) -> set[str]:
    return set(re.findall(r'href="(/[^"#?]*)', text))


def test_a_snag_leads_to_its_stage_or_to_its_setting(client, week):
    board = show_board.board(week)
    reckoned = [one for one in board.snags if re.search(r"\d", one.sentence)]
    assert {one.subject for one in reckoned} >= {"Lanternglass One", "Second Wind"}
    told = client.get("/week/").text
    for snag in board.snags:
        if snag.setting:
            assert snag.setting in setting_subjects.BY_KEY
            assert f"/settings/{snag.setting}/" in links(told)
        if snag.stage:
            assert f"/week/why/{snag.stage}/" in links(told)
    short = next(one for one in board.snags if one.subject == "Lanternglass One")
    assert short.setting == "supply"


def test_every_link_of_the_owners_pages_opens(client, week):
    seen: set[str] = set()
    for page in (
        "/week/",
        "/boats/second-wind/",
        "/jobs/j1/",
        "/week/why/j1.port-as-she-lies/",
        "/places/s5/",
    ):
        seen |= links(client.get(page).text)
    ours = {one for one in seen if not one.startswith("/static/")}
    assert {"/places/s5/", "/jobs/j1/", "/settings/sky/"} <= ours
    for address in sorted(ours):
        assert client.get(address, follow=True).status_code in (200, 405), address


def test_a_stages_why_has_numbers_limits_and_source_of_its_planned_hours(client, week):
    told = client.get("/week/why/j1.port-as-she-lies/").text.replace(
        "\N{NO-BREAK SPACE}", " "
    )
    assert "The numbers of its planned hours" in told
    assert "at most 14 mph" in told or "at most 18 mph" in told
    assert "The sheet of Lanternglass One." in told


def test_a_place_that_forbids_it_stands_in_the_why_with_its_source(client, week):
    plans.shop.Place.objects.update(spray_rule="none")
    told = client.get("/week/why/j1.port-as-she-lies/").text
    assert "Marrow Road allows no spraying" in told
    assert "as it is entered on its page. Marrow Road." in told


def test_the_boats_page_names_what_its_shade_is_reckoned_from(client, owner):
    posted.sprayed()
    told = client.get("/boats/second-wind/").text
    assert {"/settings/sky/", "/places/s5/"} <= links(told)
    assert "leans out by" in client.get("/settings/sky/").text.lower().replace(
        "the top of a side ", ""
    )
