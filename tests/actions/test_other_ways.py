"""A boat turned or put under a roof by hand: priced, drafted, taken back; what crosses another's change is refused."""

from datetime import time
from itertools import product

import pytest

from dispatch.actions import by_hand_rows, clock, other_ways
from dispatch.actions.by_hand_rows import Crossed
from dispatch.actions.errors import Refused, Stranger
from dispatch.records.models import (
    Duty,
    Equipment,
    HistoryEntry,
    Job,
    Person,
    Pin,
    Skill,
    Standing,
    Van,
)
from tests.actions import plans
from tests.planner.weeks import faults, planned
from tests.web import people

pytestmark = pytest.mark.django_db


def sprayed():
    """A draft of a week in which a boat is coated as she lies, with a roof that stands where she lies."""
    place = plans.outfit()
    loft = Equipment.objects.create(
        key="loft", name="Loft", kind="canopy", towed=False, roof=True, set_minutes=35
    )
    Standing.objects.create(equipment=loft, place=place, since=plans.at(22, "18:00"))
    Duty.objects.update(end=time(18))
    Van.objects.update(duty_end=time(18), gear=["washer", "polisher", "little-gun"])
    for who, name in product(Person.objects.all(), ("interior", "decals")):
        Skill.objects.create(person=who, name=name)
    plans.coat(place)
    plan = plans.draft([])
    plan.plan = planned(plan.problem, steps=300)
    plan.save()
    return plan


@pytest.fixture
def plan():
    return sprayed()


def test_a_plan_that_leaves_her_out_has_her_no_way(plan):
    job = Job.objects.get()
    assert other_ways.lays(plan, job)
    plan.plan["van_days"] = []
    assert not other_ways.lays(plan, job)


def test_each_other_way_is_priced_and_one_is_drafted_and_taken_back(plan):
    """Under the roof all of her is done by Saturday; behind side-screens her ends find no hours, and that is said."""
    job, owner = Job.objects.get(), people.owner()
    assert other_ways.of(plan, job)[0].name == "Cover her with a roof"
    found = {one.key: one.answer for one in other_ways.tried(plan, job)}
    assert set(found) == {"as-she-lies", "little-gun"}
    answer = found["as-she-lies"]
    assert any("Spray transom" in line for line in answer.lost)
    draft = other_ways.take(plan, job, "as-she-lies", by=owner)
    assert draft.plan["chosen"]["j1"] == "as-she-lies"
    # The outside judge shares no code with the house.
    assert faults(draft.problem, draft.plan) == []
    told = draft.plan["cost"]["total"] - plan.plan["cost"]["total"]
    assert told == answer.cents
    with pytest.raises(Refused, match="that way already"):
        other_ways.take(draft, job, "as-she-lies", by=owner)
    with pytest.raises(Crossed):
        other_ways.take(plan, job, "little-gun", by=owner)

    (back,) = (one for one in other_ways.tried(draft, job) if one.key == "roofed")
    assert back.answer.fits
    assert not back.answer.lost
    assert back.answer.cents < 0
    sentence = HistoryEntry.objects.filter(verb="by-hand").get().sentence
    assert "Second Wind: As she lies, behind side-screens" in sentence
    assert by_hand_rows.undo(draft, by=owner) == plan


def test_strangers_and_what_is_made_fast_are_refused(plan, client):
    job = Job.objects.get()
    with pytest.raises(Stranger):
        other_ways.take(plan, job, "roofed", by=people.crew())
    client.force_login(people.nobodys())
    address = f"/week/plan/{plan.pk}/ways/j1/"
    assert client.get(address).status_code == 403
    assert client.post(f"{address}take/", {"way": "roofed"}).status_code == 403
    Pin.objects.create(
        stage=job.stages.first(), van=Van.objects.get(), start=clock.now()
    )
    client.force_login(people.owner())
    assert "is made fast. Cast it off first." in client.get(address).text
