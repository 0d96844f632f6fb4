"""A week over the machines' door: asked for, built, read, posted once; left-out stages with why."""

from datetime import datetime

import pytest

from dispatch.actions import sweeping
from dispatch.records.models import Notice, Visit, WeekPlan
from tests.api.conftest import MONDAY, crew_account

pytestmark = [
    pytest.mark.django_db,
    pytest.mark.services,
]
BUILD = f"/api/weeks/{MONDAY}/build/"


def build(client, **body):
    return client.post(BUILD, body, format="json")


def test_a_week_is_asked_for_built_read_and_posted_once(owner, rook, sky, wash):
    crew_account("teague")
    asked = build(owner, seconds=1, seed=7)
    assert (asked.status_code, asked.json()["state"]) == (202, "asked")
    sweeping.sweep()

    plan = owner.get(asked["Location"]).json()
    assert (plan["state"], plan["fault"], plan["seed"]) == ("draft", "", 7)
    day = plan["van_days"][0]
    visit = day["visits"][0]
    assert (visit["stage"], visit["boat"]) == ("j1.wash", "Second Wind")
    start, end = (datetime.fromisoformat(visit[name]) for name in ("start", "end"))
    assert start.tzinfo is not None
    assert start < end <= datetime.fromisoformat(day["back"])
    parts = dict(plan["cost"])
    assert parts.pop("total") == sum(parts.values()) > 0
    assert plan["bound"] <= plan["cost"]["total"]
    problem = owner.get(f"{asked['Location']}problem/").json()
    assert problem["format"] == "week-problem/2"

    posted = owner.post(f"{asked['Location']}post/").json()
    assert posted["state"] == "standing"
    assert Visit.objects.get().start == start
    assert Notice.objects.count() == 1
    again = owner.post(f"{asked['Location']}post/")
    assert again.status_code == 409
    assert again.json()["detail"].startswith("Only a draft can be posted")
    week = owner.get("/api/weeks/").json()[0]
    assert week == {
        "starts_on": str(MONDAY),
        "days": 7,
        "version": 1,
        "standing": plan["id"],
    }


def test_a_left_out_stage_is_told_with_code_and_why(owner, yard, wash):
    build(owner)
    WeekPlan.objects.update(
        state="draft",
        plan={
            "van_days": [],
            "chosen": {},
            "bound": None,
            "unplaced": [
                {"stage": "j1.wash", "code": "no-team", "why": "Nobody is on duty."}
            ],
        },
    )
    plan = owner.get(f"/api/weeks/{MONDAY}/").json()["plans"][0]
    assert plan["unplaced"] == [
        {
            "stage": "j1.wash",
            "boat": "Second Wind",
            "name": wash.stages.get().name,
            "code": "no-team",
            "why": "Nobody is on duty.",
        }
    ]


def test_a_draft_that_another_post_overtook_is_stale(owner, yard):
    asked = build(owner)
    WeekPlan.objects.update(state="draft", on_version=4, plan={"van_days": []})
    answer = owner.post(f"/api/plans/{asked.json()['id']}/post/")
    assert answer.status_code == 409
    assert answer.json()["type"].endswith("/stale/")
    assert not Visit.objects.exists()


def test_a_week_is_built_once_at_a_time_and_may_be_stopped(owner, yard):
    asked = build(owner).json()
    again = build(owner)
    assert (again.status_code, again.json()["detail"]) == (
        409,
        "This week is being built already. Wait for it, or stop it.",
    )
    stopped = owner.post(f"/api/plans/{asked['id']}/stop/")
    assert (stopped.status_code, stopped.json()["stop_asked"]) == (202, True)


def test_a_week_nobody_asked_for_and_a_plan_not_built_have_nothing_to_read(owner, yard):
    assert owner.get(f"/api/weeks/{MONDAY}/").status_code == 404
    asked = build(owner).json()
    assert asked["cost"] is None
    assert owner.get(f"/api/plans/{asked['id']}/problem/").status_code == 404


def test_a_week_that_cannot_be_built_says_why(owner, yard):
    build(owner)
    sweeping.sweep()
    plan = owner.get(f"/api/weeks/{MONDAY}/").json()["plans"][0]
    assert plan["state"] == "failed"
    assert "no people" in plan["fault"]


@pytest.mark.parametrize("starts_on", ["0001-01-01", "9999-12-27", "2030-05-27"])
def test_a_week_far_away_is_refused(owner, yard, starts_on):
    answer = owner.post(f"/api/weeks/{starts_on}/build/", {}, format="json")
    assert answer.status_code == 409
    assert "nearer" in answer.json()["detail"]
    assert not WeekPlan.objects.exists()


def test_weeks_do_not_overlap(owner, yard):
    build(owner)
    answer = owner.post("/api/weeks/2027-05-26/build/", {}, format="json")
    assert answer.status_code == 409
    assert "24 May" in answer.json()["detail"]


def test_the_rest_of_a_standing_week_is_planned_anew(owner, rook, sky, wash):
    crew_account("teague")
    rest = f"/api/weeks/{MONDAY}/rest/"
    assert owner.post(rest, {}, format="json").status_code == 404
    asked = build(owner, seconds=1)
    assert owner.post(rest, {}, format="json").status_code == 409
    sweeping.sweep()
    owner.post(f"{asked['Location']}post/", {}, format="json")
    again = owner.post(rest, {"cause": "Rain", "seconds": 1}, format="json")
    assert (again.status_code, again.json()["state"]) == (202, "asked")
    sweeping.sweep()
    plan = owner.get(again["Location"]).json()
    assert (plan["state"], plan["on_version"]) == ("draft", 1)
    assert owner.post(rest, {"seconds": 900}, format="json").status_code == 400
