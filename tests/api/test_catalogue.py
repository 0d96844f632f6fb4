"""The stage catalogue over the machines' door."""

import pytest

from dispatch.records.models import CatalogueRow, DueWork, HistoryEntry, JobKind

pytestmark = pytest.mark.django_db
WASH = "/api/catalogue/wash/"
STEP = "/api/catalogue/wash/2/"


def patch(client, path=STEP, **body):
    return client.patch(path, body, format="json")


def test_the_catalogue_lists_kinds_visits_steps_gear_and_holds(owner, yard):
    kinds = {kind["key"]: kind for kind in owner.get("/api/catalogue/").json()}
    assert len(kinds) == JobKind.objects.count() == 9
    finish = next(v for v in kinds["spray-coat"]["visits"] if v["visit"] == "finish")
    assert finish["gear"] == ["polisher"]
    assert (
        "after “Spray port, two coats”, once its film can be sanded" in finish["after"]
    )
    told = [step for v in kinds["wash"]["visits"] for step in v["steps"]]
    assert told[1]["per_ft_2"] == 4
    assert owner.get(WASH).json() == kinds["wash"]
    assert owner.get(STEP).json() == told[1]


def test_a_step_is_changed_and_the_history_says_from_what_to_what(owner, yard):
    answer = patch(owner, per_ft_2=5.5, crew_max=3, why="timed it")
    assert answer.status_code == 200
    assert (answer.json()["per_ft_2"], answer.json()["crew_max"]) == (5.5, 3)
    entry = HistoryEntry.objects.get(verb="set")
    assert entry.subject == "catalogue wash 2"
    assert "grade 2, dull now 5.5 labour-minutes a foot (was 4)" in entry.sentence
    assert entry.why == "timed it"
    assert DueWork.objects.filter(verb="refigure-book", key="wash").exists()


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"per_ft_2": -1}, "per_ft_2"),
        ({"fixed_minutes": "much"}, "fixed_minutes"),
        ({"share": 0}, "share"),
        ({"crew_min": 3}, "crew_min"),
        ({"crew_max": 13}, "crew_max"),
        ({"skill": "luck"}, "skill"),
        ({"family": "moon"}, "family"),
        ({"per_repair": {"M": -5}}, "per_repair.M"),
        ({"name": ""}, "name"),
    ],
)
def test_a_value_that_will_not_do_names_its_field_and_changes_nothing(
    owner, yard, wrong, field
):
    before = CatalogueRow.objects.filter(kind__key="wash").values().order_by("pk")
    before = list(before)
    answer = patch(owner, **({"per_ft_1": 9} | wrong))
    assert answer.status_code == 400
    assert answer["Content-Type"] == "application/problem+json"
    assert [fault["field"] for fault in answer.json()["errors"]] == [field]
    now = CatalogueRow.objects.filter(kind__key="wash").values().order_by("pk")
    assert list(now) == before
    assert not HistoryEntry.objects.filter(verb="set").exists()


def test_a_body_without_a_field_is_400(owner, yard):
    assert patch(owner).status_code == 400
    assert patch(owner, why="no reason").status_code == 400


@pytest.mark.parametrize(
    "path",
    [
        "/api/catalogue/luck/",
        "/api/catalogue/wash/99/",
        "/api/catalogue/wash/99999999/",
    ],
)
def test_what_is_not_there_is_404(owner, yard, path):
    assert owner.get(path).status_code == 404
    assert patch(owner, path, name="x").status_code == 404


def test_a_price_is_changed(owner, yard):
    answer = patch(owner, WASH, cents_per_ft=500, bumped_first=False)
    assert answer.json()["cents_per_ft"] == 500
    sentence = HistoryEntry.objects.get(verb="set").sentence
    assert "price a foot now $5.00 (was $4.60)" in sentence
    assert "no longer bumped first" in sentence
    assert patch(owner, WASH, cents_per_ft=-1).status_code == 400


@pytest.mark.parametrize("path", [WASH, STEP])
def test_the_crew_changes_nothing(crew, yard, path):
    assert patch(crew, path, name="Mine").status_code == 403
    assert not HistoryEntry.objects.filter(verb="set").exists()
