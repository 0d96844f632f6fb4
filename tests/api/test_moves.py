"""A visit over the machines' door: what holds it, every day's price, and a draft that has it elsewhere."""

import pytest

from dispatch.actions import sweeping
from dispatch.records.models import WeekPlan
from tests.api.conftest import MONDAY, crew_account

pytestmark = [
    pytest.mark.django_db,
    pytest.mark.services,
]


def test_a_visit_is_read_priced_and_moved(owner, rook, sky, wash):
    crew_account("teague")
    ask = {"seconds": 1, "seed": 7}
    asked = owner.post(f"/api/weeks/{MONDAY}/build/", ask, format="json")
    sweeping.sweep()
    address = f"{asked['Location']}moves/j1.wash/"
    answer = owner.get(address)
    assert answer.status_code == 200
    told = answer.json()
    assert told["holds"]["before"][0]["sentence"].endswith(".")
    here = told["holds"]["on"]
    by_day = {row["on"]: row for row in told["days"]}
    assert by_day[here]["cents"] is None
    assert "already" in by_day[here]["why_not"]
    free = next(row for row in told["days"] if row["cents"] is not None)

    moved = owner.post(address, {"on": free["on"]}, format="json")
    assert moved.status_code == 201
    draft = owner.get(moved["Location"]).json()
    assert draft["state"] == "draft"
    assert [day["on"] for day in draft["van_days"]] == [free["on"]]
    before = owner.get(asked["Location"]).json()["cost"]["total"]
    assert draft["cost"]["total"] - before == free["cents"]
    assert WeekPlan.objects.count() == 2


def test_a_bad_question_is_answered_in_a_sentence(owner, yard, wash):
    asked = owner.post(f"/api/weeks/{MONDAY}/build/", {}, format="json")
    address = f"{asked['Location']}moves/j1.wash/"
    answer = owner.get(address)
    assert answer.status_code == 409
    assert answer.json()["detail"] == "This week has no plan yet. Build it first."
    assert owner.post(address, {"on": "soon"}, format="json").status_code == 400
    assert owner.get("/api/plans/999999/moves/j1.wash/").status_code == 404
