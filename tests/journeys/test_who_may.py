"""Who may be given what: no hood without a fit test, nothing sprayed and no solvents under 18, by any way of asking.

Under 18 and fit tests: common practice and 29 CFR 1910.134(f)(2); the ages are of the demo, a year younger where told.
"""

from datetime import date

import pytest

from dispatch.actions import by_hand, planning
from dispatch.actions.errors import Refused
from dispatch.records.models import Job, Person, Sheet, Skill, Van
from tests.actions import plans, shop
from tests.bench.variants import in_ways
from tests.journeys.asked import (
    done_by,
    keep_stages,
    problem_of_the_week,
    rest_left_out,
    visits,
)
from tests.planner.weeks import faults, planned
from tests.web import people

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
WHY = "They asked for it, and are nearly old enough."
TUESDAY = plans.at(25, "10:10")
PREP, PORT = "j1.prep", "j1.port-as-she-lies"


@pytest.fixture
def week():
    """Have a two-part coat to lay, for two in hoods, Maeve who is 19 and has none, and Dov who is 17."""
    job = plans.coat(plans.outfit())
    Sheet.objects.update(kind="two-part", pot_life_ref_h=3)
    for key in ("rook", "teague"):
        fitted(key, date(2027, 9, 30))
    maeve = plans.person("maeve", "Maeve Tolliver", "MT")
    dov = plans.person("dov", "Dov Halloran", "DH")
    for person, born in ((maeve, date(2008, 1, 9)), (dov, date(2009, 6, 1))):
        Skill.objects.create(person=person, name="spray-2")
        Person.objects.filter(pk=person.pk).update(born=born)
    return job


def fitted(key: str, until: date | None) -> None:
    person = Person.objects.get(key=key)
    for name in ("hood", "spray-2"):
        test = until if name == "hood" else None
        Skill.objects.create(person=person, name=name, fit_test_until=test)


def drafted(*visits_of_tuesday: tuple[str, str, str]):
    """Return a draft of Tuesday's visits, everything else left out."""
    days = [(25, "07:00", "16:30", list(visits_of_tuesday))]
    return rest_left_out(plans.draft(days if visits_of_tuesday else []))


def asked(plan, stage: str, start, who: str) -> str:
    """Return what the house says to a stage put in for Rook and somebody."""
    team = tuple(Person.objects.filter(key__in=("rook", who)))
    return " ".join(
        by_hand.try_put(plan, stage, Van.objects.get(), start, team=team).why_not
    )


def test_by_hand_each_is_refused_with_the_reason_and_whoever_may_is_taken(week):
    plan = drafted()
    told = asked(plan, PREP, plans.at(25, "07:30"), "dov")
    assert told == (
        "Dov Halloran is 17: no solvents and acids under 18, and “Wash, strip, deoxidise, scuff” on Second Wind has that."
    )
    assert asked(plan, PREP, plans.at(25, "07:30"), "maeve") == ""
    prepped(week)
    plan = drafted()
    assert asked(plan, PORT, TUESDAY, "maeve").startswith(
        "Maeve Tolliver has no air-fed hood with a fit test, and “Spray port, two coats” on Second Wind is two-part"
    )
    assert asked(plan, PORT, TUESDAY, "dov").startswith(
        "Dov Halloran is 17: no spraying under 18"
    )
    assert asked(plan, PORT, TUESDAY, "teague") == ""


def test_a_swap_puts_neither_of_them_at_two_part(week):
    prepped(week)
    plan = drafted((PORT, "10:10", "11:45"))
    out, van = Person.objects.get(key="teague"), Van.objects.get()
    owner = people.owner()
    for key, told in (("maeve", "no air-fed hood"), ("dov", "no spraying under 18")):
        into = Person.objects.get(key=key)
        with pytest.raises(Refused, match=told):
            by_hand.swap(plan, van, 1, out, into, by=owner)


@pytest.mark.parametrize(
    ("until", "told"),
    [
        (None, "Nobody entered until when Teague Amsel's fit test holds, and"),
        (date(2027, 5, 24), "Teague Amsel's fit test holds until 24 May, not through"),
    ],
)
def test_a_fit_test_that_nobody_entered_or_that_is_over_is_none(week, until, told):
    Skill.objects.filter(person__key="teague", name="hood").update(fit_test_until=until)
    prepped(week)
    assert told in asked(drafted(), PORT, TUESDAY, "teague")


def port_alone() -> dict:
    return keep_stages(in_ways(problem_of_the_week(), {"j1": "as-she-lies"}), PORT)


def test_the_planner_leaves_the_coat_out_rather_than_give_it_to_one_of_them(week):
    prepped(week)
    Skill.objects.filter(person__key="teague", name="hood").delete()
    for key in ("maeve", "dov"):
        Person.objects.filter(key=key).update(drives=True)
    problem = port_alone()
    plan = planned(problem, steps=100)
    assert faults(problem, plan) == []
    assert [left["stage"] for left in plan["unplaced"]] == [PORT]
    fitted_again = Person.objects.get(key="maeve")
    Skill.objects.create(
        person=fitted_again, name="hood", fit_test_until=date(2027, 9, 30)
    )
    problem = port_alone()
    plan = planned(problem, steps=100)
    assert visits(plan)[PORT][0]["team"] == ["maeve", "rook"]


def test_what_was_drafted_before_all_the_same_is_never_posted(week):
    prepped(week)
    plan = drafted((PORT, "10:10", "11:45"))
    plan.plan["van_days"][0]["team"] = ["dov", "maeve"]
    plan.save()
    with pytest.raises(Refused, match="nobody may overrule it") as refused:
        planning.post(plan, by=people.owner(), why=WHY)
    assert "Dov Halloran is 17: no spraying under 18" in str(refused.value)


def prepped(job: Job) -> None:
    """Have the boat washed and masked by Monday evening."""
    shop.Outfit.objects.update(stands_at=plans.at(24, "17:00"))
    done_by(job, plans.at(24, "16:55"), "prep", "mask")
