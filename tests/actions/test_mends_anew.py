"""Snags of house rules, of work left out and of what only planning anew mends have a priced mend too, one tap from its draft."""

from datetime import date
from time import monotonic

import pytest
from django.utils import timezone

from dispatch.actions import (
    absences,
    due,
    house_rules,
    mend_anew,
    mends,
    planning,
    replanning,
    show_board,
    solving,
    sweeping,
)
from dispatch.records.models import DueWork, Job, Mend, Person, Van, WeekPlan
from tests.actions import plans
from tests.actions.test_moves import placed
from tests.web import people

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]


def snag(plan, about):
    return next(one for one in show_board.board(plan).snags if one.about == about)


def prepared():
    """A draft that prepares a boat in the first hours she may be."""
    plan = plans.draft([])
    stage = next(row for row in plan.problem["stages"] if row["id"] == "j1.prep")
    minutes = stage["minutes"]["2"]
    start = next(s for s, e in stage["windows"] if e - s >= minutes)
    day = next(d for d, (s, e) in enumerate(plan.problem["days"]) if s <= start < e)
    stop = {"do": "visit", "stage": "j1.prep", "start": start, "end": start + minutes}
    row = {"van": "knot", "day": day, "team": ["rook", "teague"], "break": None}
    row |= {"depart": start, "back": start + minutes, "stops": [stop]}
    others = [
        row["id"]
        for row in plan.problem["stages"]
        if row["id"] != "j1.prep" and row["variant"] in (None, "as-she-lies")
    ]
    left = {"code": "no-room", "why": "No van has room for it."}
    plan.plan |= {"van_days": [row], "unplaced": [left | {"stage": s} for s in others]}
    plan.save()
    return plan


def test_a_rule_of_the_house_is_mended_by_the_cheapest_swap(client):
    plans.coat(plans.outfit())
    plans.person("spare", "Corin Vale", "CV")
    Person.objects.filter(key="rook").update(born=date(2009, 6, 1))
    plan = prepared()
    assert snag(plan, "house:minor").priced is None
    mends.price(str(plan.pk))
    found = snag(plan, "house:minor").priced
    assert (found.ask["do"], found.ask["out"], found.ask["into"]) == (
        "swap",
        "rook",
        "spare",
    )
    owner = people.owner()
    client.force_login(owner)
    page = client.get(f"/week/{plan.week.starts_on}/").text
    assert "Corin Vale rides in Knot" in page
    sent = {"plan": plan.pk, "who": [], **found.ask}
    client.post("/week/why/j1.prep/moves/swap/", sent)
    made = WeekPlan.objects.latest("pk")
    assert made.origin == plan
    assert house_rules.objections(made) == ()


def test_a_boat_left_out_though_promised_is_let_in_where_there_is_room():
    plans.wash(plans.outfit())
    Job.objects.update(promise=Job.Promise.HARD, promised_by=plans.at(26, "17:00"))
    out = {"stage": "j1.wash", "code": "no-room", "why": "No van has room for it."}
    plan = plans.draft([], [out])
    plan.plan["chosen"] = {}
    plan.save()
    mends.price(str(plan.pk))
    for about in ("broken:j1", "left:all"):
        ask = snag(plan, about).priced.ask
        assert (ask["do"], ask["stage"]) == ("put", "j1.wash")


def test_a_van_off_the_road_is_mended_by_planning_anew_for_a_price(client):
    plans.wash(plans.outfit())
    owner = people.owner()
    plan = placed()
    planning.post(plan, by=owner)
    DueWork.objects.all().delete()
    assert mends.look() == 0
    tuesday = date(2027, 5, 25)
    absences.van_off(Van.objects.get(), tuesday, tuesday, by=owner)
    assert mends.look() == 1
    sweeping.sweep("rest")
    sweeping.sweep("search")
    row = Mend.objects.get(snag="anew")
    assert "Planned anew, 1 visit and the days of 2 people change" in row.words
    assert row.ask == {"do": "anew", "priced": True}
    assert WeekPlan.objects.count() == 1
    client.force_login(owner)
    page = client.get(f"/week/{plan.week.starts_on}/").text
    assert "Mend:</strong> Planned anew" in page
    assert mends.look() == 0
    absences.van_back(Van.objects.get(), tuesday, by=owner)
    mends.price(str(plan.pk))
    assert not Mend.objects.filter(snag="anew").exists()


@pytest.fixture
def to_be_priced():
    """A standing week whose van is off the road: what planning it anew costs waits to be worked out."""
    plans.wash(plans.outfit())
    owner = people.owner()
    plan = placed()
    planning.post(plan, by=owner)
    tuesday = date(2027, 5, 25)
    absences.van_off(Van.objects.get(), tuesday, tuesday, by=owner)
    DueWork.objects.all().delete()
    return plan


def test_it_is_not_begun_while_a_week_that_was_asked_for_is_to_be_built(
    to_be_priced, monkeypatch
):
    monkeypatch.setattr(solving, "solve", None)
    due.put(planning.VERB, "0")
    mend_anew.price(str(to_be_priced.pk))
    assert not Mend.objects.exists()
    again = DueWork.objects.get(verb=mend_anew.VERB)
    assert again.done_at is None
    assert again.due_at > timezone.now()


@pytest.mark.parametrize("busy", ["reading", "searching"])
def test_a_week_that_is_asked_for_meanwhile_is_built_within_a_second(
    to_be_priced, monkeypatch, busy
):
    """Somebody asks once its rows are being read, or once its search, which would take a minute, is running."""
    monkeypatch.setattr(replanning, "SECONDS", 60)
    looks, asked, searches, watch = [], [], [], solving._watch

    def look() -> bool:
        """The real look; somebody asks just before it, but not when it begins."""
        looks.append(monotonic())
        if len(looks) > 1 and not asked and bool(searches) == (busy == "searching"):
            due.put(planning.VERB, "0")
            asked.append(monotonic())
        return due.is_open(planning.VERB)

    def watching(*args):
        searches.append(True)
        return watch(*args)

    monkeypatch.setattr(solving, "_watch", watching)
    monkeypatch.setattr(mend_anew, "_asked_for", look)
    mend_anew.price(str(to_be_priced.pk))
    assert monotonic() - asked[0] < 1
    assert bool(searches) == (busy == "searching")
    assert not Mend.objects.exists()
    assert DueWork.objects.filter(verb=mend_anew.VERB, done_at=None).exists()


def test_what_gave_way_is_priced_once_the_week_is_built(to_be_priced, monkeypatch):
    due.put(planning.VERB, "0")
    mend_anew.price(str(to_be_priced.pk))
    DueWork.objects.filter(verb=planning.VERB).update(done_at=timezone.now())
    monkeypatch.setattr(replanning, "SECONDS", 1)
    mend_anew.price(str(to_be_priced.pk))
    assert Mend.objects.filter(snag="anew").exists()
