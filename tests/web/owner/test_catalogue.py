"""The owner's stage catalogue: read by kind of job, change a step and a price."""

import re

import pytest

from dispatch.actions import catalogue
from dispatch.records.models import (
    CatalogueRow,
    DueWork,
    HistoryEntry,
    JobKind,
    Outfit,
)
from tests.actions import shop
from tests.web import people

pytestmark = pytest.mark.django_db
ALL, KIND = "/settings/catalogue/", "/settings/catalogue/wash/"
STEP = "/settings/catalogue/wash/2/"


@pytest.fixture
def place():
    shop.outfit()
    shop.catalogue()
    return shop.driveway()


@pytest.fixture
def owner(client):
    account = people.owner()
    client.force_login(account)
    return account


def form(client, **changes):
    """Everything the step's form holds, with some fields entered anew."""
    row = CatalogueRow.objects.get(kind__key="wash", position=2)
    shown = {
        "name": row.name,
        "skill": row.skill,
        "family": row.family,
        "crew_min": "1",
        "crew_max": "2",
        "share": "1",
        "fixed_minutes": "0",
        "clock_minutes": "0",
        "per_panel": "0",
        **{f"per_ft_{grade}": str(grade + 2) for grade in (1, 2, 3, 4)},
        **{f"per_repair.{size}": "0" for size in "SML"},
    }
    page = client.get(STEP).text
    for name, value in shown.items():
        assert f'name="was:{name}" value="{value}"' in page
    was = {f"was:{name}": value for name, value in shown.items()}
    return was | {f"v:{name}": value for name, value in (shown | changes).items()}


@pytest.mark.parametrize("make", [people.crew, people.nobodys])
@pytest.mark.parametrize("address", [ALL, KIND, STEP])
def test_nobody_else_sees_or_sets_it(client, place, make, address):
    client.force_login(make())
    assert client.get(address).status_code == 403
    assert client.post(address, {"v:per_ft_2": "9"}).status_code in (403, 405)
    assert not HistoryEntry.objects.filter(verb="set").exists()


@pytest.mark.parametrize("address", [ALL, KIND, STEP])
def test_a_stranger_is_asked_to_sign_in(client, place, address):
    assert client.get(address).url == f"/sign-in/?next={address}"


def test_hours_by_grade_stand_beside_each_kind(client, place, owner):
    # A 20 ft centre console of grade 2 with one medium repair: 1,394 labour-minutes, 23.2 hours.
    told = client.get(ALL).text
    assert '<span class="cell-said">23.2 h</span>' in told
    assert "$68 a ft" in told
    assert "$380 flat" in told


def test_a_kind_tells_rates_teams_skills_gear_holds_and_sky(client, place, owner):
    told = client.get("/settings/catalogue/spray-coat/").text
    assert "After “Mask and drape”, at most 8 h later" in told
    assert "After “Spray port, two coats”, once its film can be sanded" in told
    assert "Takes: polisher" in told
    assert "6 / 9 / 13 / 18" in told
    assert "repair S/M/L: 35 / 60 / 110" in told
    assert 'href="/settings/gelcoat/"' in told


def test_a_step_is_changed_and_says_what_that_does(client, place, owner):
    given = form(client, per_ft_2="4.5", crew_max="3", skill="lead")
    answer = client.post(STEP, given | {"why": "timed it"}, follow=True)
    assert "Wash is set. New jobs are reckoned by it." in answer.text
    row = CatalogueRow.objects.get(kind__key="wash", position=2)
    assert (row.per_ft_2, row.crew_max, row.skill) == (4.5, 3, "lead")
    entry = HistoryEntry.objects.get(verb="set")
    assert entry.why == "timed it"
    assert "grade 2, dull now 4.5 labour-minutes a foot (was 4)" in entry.sentence
    assert DueWork.objects.get(verb="refigure-book").key == "wash"
    assert "Reason: timed it" in answer.text


@pytest.mark.parametrize(
    ("field", "wrong", "said"),
    [
        ("per_ft_2", "much", "Grade 2, dull: give a number from 0 to 500"),
        ("per_ft_2", "501", "Grade 2, dull: give a number from 0 to 500"),
        ("share", "0", "Part that falls to this visit: give a number from 0.01 to 1"),
        ("crew_min", "1.5", "Team at least: give a whole number from 1 to 12 people"),
        ("crew_min", "3", "The team at least (3) is above the team at most (2)"),
        ("skill", "luck", "There is no skill called luck"),
        ("name", " ", "Give it a name"),
        ("per_repair.M", "-4", "For each medium repair: give a number from 0 to 2880"),
    ],
)
def test_a_bad_value_is_told_beside_its_field_and_nothing_is_written(
    client, place, owner, field, wrong, said
):
    before = CatalogueRow.objects.filter(kind__key="wash").order_by("pk").values()
    before = list(before)
    answer = client.post(STEP, form(client, per_ft_1="9") | {f"v:{field}": wrong})
    assert answer.status_code == 422
    assert f'id="{field}-fault">{said}' in answer.text
    assert 'name="v:per_ft_1" value="9"' in answer.text
    now = CatalogueRow.objects.filter(kind__key="wash").order_by("pk").values()
    assert list(now) == before
    assert not HistoryEntry.objects.filter(verb="set").exists()


def test_what_somebody_else_set_meanwhile_is_not_written_over(client, place, owner):
    given = form(client, per_ft_2="9")
    row = CatalogueRow.objects.get(kind__key="wash", position=2)
    catalogue.change_row(row, {"per_ft_2": 5.0}, by=owner)
    answer = client.post(STEP, given, follow=True)
    assert "was changed while you were writing" in answer.text
    row.refresh_from_db()
    assert row.per_ft_2 == 5


def test_repairs_are_set_by_size(client, place, owner):
    client.post(STEP, form(client, **{"per_repair.M": "12"}))
    row = CatalogueRow.objects.get(kind__key="wash", position=2)
    assert row.per_repair == {"M": 12}


def test_name_and_price_are_set(client, place, owner):
    given = {"name": "Wash down", "per_ft": "$5.25", "flat": "0", "why": "soap"}
    answer = client.post(KIND, given, follow=True)
    assert "Jobs already taken keep their price" in answer.text
    kind = JobKind.objects.get(key="wash")
    assert (kind.name, kind.cents_per_ft, kind.bumped_first) == (
        "Wash down",
        525,
        False,
    )


@pytest.mark.parametrize("price", ["dear", "-1", "inf", ""])
def test_a_price_that_will_not_do_is_told(client, place, owner, price):
    answer = client.post(KIND, {"name": "Wash", "per_ft": price, "flat": "0"})
    assert answer.status_code == 422
    assert "Enter dollars, as 68 or 4.60, from 0 to 100,000." in answer.text
    assert JobKind.objects.get(key="wash").cents_per_ft == 460


@pytest.mark.parametrize(
    "address",
    [
        "/settings/catalogue/luck/",
        "/settings/catalogue/wash/99/",
        KIND + "9" * 30 + "/",
    ],
)
def test_what_is_not_there_is_no_page(client, place, owner, address):
    assert client.get(address).status_code == 404


@pytest.fixture
def metric(place, owner):
    Outfit.objects.update(units="metric")


def fields(client, address):
    """The values of a page's fields by name."""
    page = client.get(address).text
    found = re.findall(r'name="([^"]+)" value="([^"]*)"', page)
    return {name: value for name, value in found if name != "csrfmiddlewaretoken"}


def test_a_metric_outfit_reads_and_sets_prices_by_the_metre(client, metric):
    """4.60 dollars a foot are 15.09 a metre: exact by the foot of 0.3048 m."""
    page = client.get(KIND).text
    assert "$15.09 a m" in page
    assert "Price a metre, $" in page
    assert "A metre, by grade" in page
    assert " foot" not in page
    client.post(KIND, {"name": "Wash", "per_ft": "20", "flat": "0"})
    assert JobKind.objects.get(key="wash").cents_per_ft == 610
    assert (
        "price a metre now $20.01 (was $15.09)" in HistoryEntry.objects.get().sentence
    )


def test_what_is_shown_rounded_and_sent_back_changes_nothing(client, metric):
    sent = {"name": "Maintenance wash", "flat": "0", "bumped_first": "on"}
    client.post(KIND, sent | {"per_ft": "15.09"})
    client.post(STEP, fields(client, STEP) | selects())
    assert not HistoryEntry.objects.filter(verb="set").exists()
    assert JobKind.objects.get(key="wash").cents_per_ft == 460


def selects():
    row = CatalogueRow.objects.get(kind__key="wash", position=2)
    return {"v:skill": row.skill, "v:family": row.family}


def test_a_metric_outfit_reads_and_sets_labour_by_the_metre(client, metric):
    """4 labour-minutes a foot are 13.123 a metre."""
    sent = fields(client, STEP) | selects()
    assert sent["v:per_ft_2"] == "13.123"
    assert "Labour-minutes a metre" in client.get(STEP).text
    client.post(STEP, sent | {"v:per_ft_2": "15"})
    row = CatalogueRow.objects.get(kind__key="wash", position=2)
    assert row.per_ft_2 == pytest.approx(15 * 0.3048)
    assert (row.per_ft_1, row.per_ft_3) == (3, 5)
    said = HistoryEntry.objects.get(verb="set").sentence
    assert "grade 2, dull now 15 labour-minutes a metre (was 13.12)" in said


def test_a_metric_range_is_told_by_the_metre(client, metric):
    sent = fields(client, STEP) | selects() | {"v:per_ft_2": "5000"}
    answer = client.post(STEP, sent)
    assert answer.status_code == 422
    assert "from 0 to 1640 labour-minutes a metre" in answer.text
