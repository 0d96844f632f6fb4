"""A way that no hours allow stands among a boat's ways with its reason, and is never offered."""

import pytest

from dispatch.actions import board_reading, closed_ways, other_ways
from dispatch.records.models import Job, Outfit, Stage, Veto
from tests.actions import plans
from tests.actions.test_other_ways import sprayed
from tests.web import people

pytestmark = pytest.mark.django_db
GUST = "gust 21 mph, needs at most 18 mph"


@pytest.fixture
def gusty():
    """A week whose gusts forbid the little gun in the open, as a veto of the sky over every hour of it."""
    plan = sprayed()
    stage = Stage.objects.get(key="port-little-gun")
    Veto.objects.filter(stage=stage).delete()
    Veto.objects.create(
        stage=stage,
        plugin=stage.judged.first().plugin,
        edge="during",
        start=plans.at(23, "00:00"),
        end=plans.at(31, "23:00"),
        code="gust",
        sentence=GUST,
        strength="wall",
    )
    again = plans.draft([])
    again.plan = plan.plan
    again.save()
    return again


def test_it_is_named_with_the_stage_and_what_stands_against_it(gusty, client):
    (closed,) = closed_ways.of(gusty, Job.objects.get())
    assert closed.name.startswith("Little gun")
    assert closed.why == (
        f"Spray port, two coats finds no hours in what is left of the week: {GUST}."
    )
    assert "little-gun" not in {
        one.key for one in other_ways.of(gusty, Job.objects.get())
    }
    client.force_login(people.owner())
    page = client.get(f"/week/plan/{gusty.pk}/ways/j1/").text
    assert "Not open this week." in page
    assert GUST.replace(" mph", "\xa0mph") in page


def test_hours_that_opened_since_are_told(gusty):
    Veto.objects.filter(sentence=GUST).delete()
    (closed,) = closed_ways.of(gusty, Job.objects.get())
    assert "are now: plan the rest anew" in closed.why


def test_after_the_week_it_is_over(gusty):
    Outfit.objects.update(stands_at=plans.at(31, "12:00"))
    (closed,) = closed_ways.of(gusty, Job.objects.get())
    assert closed.why == "Its week is over."


def test_a_way_begun_shuts_the_others(gusty):
    begun = Stage.objects.filter(variant="as-she-lies").first()
    begun.state, begun.started_at = Stage.State.DONE, plans.at(24, "08:00")
    begun.ended_at = plans.at(24, "09:00")
    begun.save()
    (closed,) = closed_ways.of(gusty, Job.objects.get())
    assert closed.why == (
        "“As she lies, behind side-screens” was begun; "
        "what is begun that way is ended that way."
    )


def test_the_board_leads_to_it_where_one_way_is_left(gusty):
    reading = board_reading.read(gusty)
    assert closed_ways.choices(reading) == {"j1"}
    (row,) = gusty.problem["jobs"]
    row["variants"] = row["variants"][:1]
    gusty.save()
    assert closed_ways.choices(board_reading.read(gusty)) == {"j1"}
    row["variants"] = []
    gusty.save()
    assert closed_ways.choices(board_reading.read(gusty)) == set()
