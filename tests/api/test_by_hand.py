"""What the board does by hand, over the machines' door: the same drafts, the same refusals, the same conflicts."""

import pytest

from dispatch.actions import clock, planning
from dispatch.planner.cost import cost
from dispatch.planner.plan import read_plan
from dispatch.planner.read import read_problem
from dispatch.records.models import (
    Account,
    Bump,
    HistoryEntry,
    Job,
    Outfit,
    Person,
    Pin,
    WeekPlan,
)
from tests.actions import plans
from tests.actions.test_moves import placed
from tests.api.conftest import MONDAY, signed_in

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
NOON = "2027-05-25T12:00:00-04:00"


@pytest.fixture
def washed(db):
    """Return a draft that washes a boat on Tuesday morning."""
    plans.wash(plans.outfit())
    plan = placed()
    found = read_plan(plan.plan | {"bound": None})
    plan.plan["cost"] = dict(cost(read_problem(plan.problem), found))
    plan.save()
    return plan


def post(caller, address: str, **body: object):
    return caller.post(f"/api/{address}", body, format="json")


def starts(draft):
    return {v["stage"]: v["start"] for d in draft["van_days"] for v in d["visits"]}


def test_a_visit_is_tried_put_there_and_taken_back(owner, washed):
    address = f"plans/{washed.pk}/put/j1.wash/"
    tried = owner.get(f"/api/{address}", {"van": "knot", "start": NOON}).json()
    assert tried["fits"]
    assert tried["why_not"] == []
    assert WeekPlan.objects.count() == 1

    made = post(owner, address, van="knot", start=NOON)
    assert made.status_code == 201
    draft = owner.get(made["Location"]).json()
    assert draft["cost"]["total"] is not None
    assert WeekPlan.objects.get(pk=draft["id"]).origin == washed

    back = post(owner, f"plans/{draft['id']}/undo/")
    assert back.status_code == 200
    assert back.json()["id"] == washed.pk
    again = post(owner, f"plans/{draft['id']}/undo/")
    assert again.status_code == 409


def test_two_changes_are_taken_back_at_once(owner, washed):
    first = post(owner, f"plans/{washed.pk}/put/j1.wash/", van="knot", start=NOON)
    at = {"van": "knot", "start": NOON.replace("12:00", "13:00")}
    second = post(owner, f"plans/{first.json()['id']}/put/j1.wash/", **at)
    assert second.status_code == 201

    back = post(owner, f"plans/{second.json()['id']}/undo-all/")
    assert back.json()["id"] == washed.pk
    assert starts(back.json()) == starts(owner.get(f"/api/plans/{washed.pk}/").json())
    assert post(owner, f"plans/{second.json()['id']}/undo-all/").status_code == 409


def test_what_does_not_fit_is_refused_with_its_numbers(owner, washed):
    address = f"plans/{washed.pk}/put/j1.wash/"
    late = {"van": "knot", "start": "2027-05-25T16:50:00-04:00"}
    tried = owner.get(f"/api/{address}", late).json()
    assert not tried["fits"]
    assert "Tue" in " ".join(tried["why_not"])
    answer = post(owner, address, **late)
    assert answer.status_code == 409
    assert "not possible" in answer.json()["detail"]
    assert WeekPlan.objects.count() == 1


@pytest.mark.parametrize(
    ("body", "field"),
    [
        ({"van": "knot"}, "start"),
        ({"van": "knot", "start": "soon"}, "start"),
        ({"van": "ghost", "start": NOON}, "van"),
        ({"van": "knot", "start": NOON, "team": ["nobody"]}, "team"),
    ],
)
def test_a_bad_body_names_the_field(owner, washed, body, field):
    answer = post(owner, f"plans/{washed.pk}/put/j1.wash/", **body)
    assert answer.status_code == 400
    assert [fault["field"].partition(".")[0] for fault in answer.json()["errors"]] == [
        field
    ]
    assert WeekPlan.objects.count() == 1


def test_two_who_change_one_boat_do_not_cross(owner, washed):
    address = f"plans/{washed.pk}/put/j1.wash/"
    assert post(owner, address, van="knot", start=NOON).status_code == 201
    second = post(owner, address, van="knot", start="2027-05-25T10:30:00-04:00")
    assert second.status_code == 409
    told = second.json()
    assert told["type"].endswith("/stale/")
    assert "Nothing was changed" in told["detail"]
    assert WeekPlan.objects.count() == 2


def test_somebody_rides_instead(owner, washed):
    plans.person("spare", "Corin Vale", "CV")
    plan = placed()
    body = {"van": "knot", "on": "2027-05-25", "out": "rook", "into": "spare"}
    made = post(owner, f"plans/{plan.pk}/swap/", **body)
    assert made.status_code == 201, made.json()
    row = WeekPlan.objects.latest("pk").plan["van_days"][0]
    assert row["team"] == ["spare", "teague"]
    outside = post(owner, f"plans/{plan.pk}/swap/", **body | {"on": "2027-06-25"})
    assert outside.status_code == 400
    assert "no day of this week" in outside.json()["detail"]


def test_a_boat_is_left_out_for_a_reason_and_taken_in_again(owner, washed):
    address = f"plans/{washed.pk}/leave-out/"
    assert post(owner, address, job="j1").status_code == 400
    made = post(owner, address, job="j1", why="The yard asked for it.")
    assert made.status_code == 201
    assert made.json()["van_days"] == []
    assert Bump.objects.get().why == "The yard asked for it."
    taken = post(owner, f"weeks/{MONDAY}/take-in/", job="j1")
    assert taken.json() == {"left_out": []}
    assert post(owner, f"weeks/{MONDAY}/take-in/", job="j1").status_code == 409
    assert Job.objects.get().bumped == 0


def test_a_visit_is_made_fast_and_cast_off(owner, washed):
    address = f"/api/plans/{washed.pk}/fast/j1.wash/"
    made = owner.post(address)
    assert made.status_code == 200
    assert made.json()["van"] == "knot"
    put = post(owner, f"plans/{washed.pk}/put/j1.wash/", van="knot", start=NOON)
    assert put.status_code == 409
    assert "pin" in put.json()["detail"]
    assert owner.delete(address).status_code == 204
    assert owner.delete(address).status_code == 409
    assert not Pin.objects.exists()


def test_a_draft_is_left_aside_once(owner, washed):
    answer = post(owner, f"plans/{washed.pk}/leave/")
    assert answer.json()["state"] == "left"
    assert post(owner, f"plans/{washed.pk}/leave/").status_code == 409


def test_all_is_held_still_and_goes_on(owner, washed):
    assert owner.get("/api/still/").json() == {"since": None, "why": ""}
    assert post(owner, "still/").status_code == 400
    held = post(owner, "still/", why="The yard is shut.")
    assert held.json()["why"] == "The yard is shut."
    put = post(owner, f"plans/{washed.pk}/put/j1.wash/", van="knot", start=NOON)
    assert put.status_code == 409
    assert "held still" in put.json()["detail"]
    assert owner.delete("/api/still/").json()["since"] is None
    assert owner.delete("/api/still/").status_code == 409
    assert Outfit.objects.get().still_since is None


def test_a_rule_that_does_not_stand_cannot_be_overruled(owner, washed):
    address = "overruled/j1.wash/"
    assert owner.get(f"/api/{address}").json() == []
    none = post(owner, address, code="rain", why="It is only mist.")
    assert none.status_code == 404
    assert "no posted visit" in none.json()["detail"]
    planning.post(washed, by=Account.objects.get(role="owner"), why="So be it.")
    wrong = post(owner, address, code="rain", why="It is only mist.")
    assert wrong.status_code == 409
    assert wrong.json()["detail"].endswith(".")
    assert owner.delete(f"/api/{address}7/").status_code == 404


def test_every_change_is_told_in_the_history_by_whoever_made_it(owner, washed):
    post(owner, f"plans/{washed.pk}/put/j1.wash/", van="knot", start=NOON)
    row = HistoryEntry.objects.filter(verb="by-hand").get()
    assert row.by == Account.objects.get(role="owner")
    assert row.at <= clock.now()


def test_the_crew_changes_nothing(washed):
    rook = Person.objects.get(key="rook")
    crew = signed_in(Account.objects.create(username="rook", role="crew", person=rook))
    answer = post(crew, f"plans/{washed.pk}/put/j1.wash/", van="knot", start=NOON)
    assert answer.status_code == 403
    assert post(crew, f"plans/{washed.pk}/undo/").status_code == 403
    assert WeekPlan.objects.count() == 1
