"""A build asked for right after a job was taken, or a boat moved, waits until her sky is judged, and says whose was not."""

import pytest

from dispatch.actions import awaited_sky, book, planning, replanning, sweeping
from dispatch.records.models import Boat, Customer, DueWork, JobKind, Place
from dispatch.web.owner import progress
from tests.actions import plans
from tests.actions.test_moves import placed
from tests.web import people

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]


@pytest.fixture
def asked():
    """Ask for the rest of a posted week right after a second boat was taken into the book."""
    owner = people.owner()
    plans.wash(plans.outfit())
    plan = placed()
    planning.post(plan, by=owner)
    DueWork.objects.all().delete()
    boat = Boat.objects.create(
        key="curlew",
        name="Curlew",
        customer=Customer.objects.create(name="Bright", time_zone="America/New_York"),
        length_m=7.3,
        place=Place.objects.get(key="s5"),
        heading_deg=200,
    )
    kind = JobKind.objects.get(key="wash")
    book.take_job(key="j3", boat=boat, kind=kind, unfinished_cents=50000)
    return replanning.ask(plan.week, by=owner, seconds=1)


def test_it_waits_until_she_is_judged_and_plans_her(asked):
    assert awaited_sky.boats(asked.week) == ("Curlew",)
    sweeping.sweep("search")
    asked.refresh_from_db()
    assert (asked.state, asked.fault) == ("draft", "")
    assert "j3.wash" in str(asked.plan["van_days"])
    assert progress.unjudged(asked) == ""


def test_it_tells_whose_sky_it_waits_for_and_ends_when_it_is_stopped(asked):
    told = []

    def lend():
        asked.refresh_from_db()
        told.append(progress.told(asked).phase)
        planning.stop(asked, by=asked.asked_by)
        return True

    awaited_sky.wait(asked, lend=lend)
    assert told == ["Waiting for the sky of Curlew to be judged"]


def test_it_goes_on_when_its_patience_ends_and_says_whose_sky_it_did_not_know(asked):
    awaited_sky.wait(asked, lend=lambda: False, patience_s=0.3)
    planning.build(asked)
    asked.refresh_from_db()
    assert asked.state == "draft"
    assert "j3.wash" not in str(asked.plan["van_days"])
    assert progress.unjudged(asked) == "Curlew"


def test_a_forecast_on_its_way_holds_up_only_who_is_not_known_at_all(asked):
    DueWork.objects.filter(verb="judge-stage").delete()
    DueWork.objects.create(
        verb="take-in-forecast", key="s5", due_at=asked.asked_at.replace(year=2020)
    )
    assert awaited_sky.boats(asked.week) == ("Curlew",)
