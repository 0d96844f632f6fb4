"""Loading at the base and packing up between places: 25 and 10 minutes, the outfit's assumptions, before a drive."""

import pytest

from dispatch.actions import load_out, settings, show_route, snapshot, snapshot_gear
from dispatch.records.models import Place, Visit, Week
from tests.actions import plans, posted, shop
from tests.actions.plans import MONDAY

pytestmark = pytest.mark.django_db


@pytest.fixture
def places():
    base = plans.outfit()
    sites = [shop.driveway(key=key, name=key.upper()) for key in ("s8", "s9")]
    Place.objects.filter(key="s8").update(latitude=base.latitude + 0.1)
    Place.objects.filter(key="s9").update(latitude=base.latitude + 0.2)
    return [base, *sites]


def test_it_lies_before_each_drive_but_the_one_home(places):
    base, one, two = places
    asked = [(base, one), (one, two), (one, base), (one, one)]
    assert [load_out.minutes(a, b) for a, b in asked] == [25, 10, 0, 0]


def test_the_week_is_planned_with_it(places):
    plans.wash(places[0])
    rows = snapshot_gear.places()
    bare = snapshot_gear.drives(rows)["drive_min"]
    told = snapshot.of(Week.objects.create(starts_on=MONDAY))["drive_min"]
    at = {place.key: index for index, place in enumerate(rows)}
    base, one, two = at[places[0].key], at["s8"], at["s9"]
    assert told[base][one] == bare[base][one] + 25
    assert told[one][two] == bare[one][two] + 10
    assert told[one][base] == bare[one][base]


def test_the_owner_sets_it(places):
    settings.change("day.load_out_minutes", 40, by=plans.owner())
    assert load_out.minutes(places[0], places[1]) == 40


def test_the_crew_reads_when_to_load_and_when_to_drive_off(db):
    job = posted.sprayed()
    rook = posted.person("rook", "spray-1")
    visit = posted.visit(posted.van_day(rook), job.stages.get(key="port"), "11:00")
    found = show_route.route(rook, MONDAY)
    day = Visit.objects.get(pk=visit.pk).van_day
    assert found.depart == day.depart
    assert (found.drives_off - day.depart).total_seconds() == 25 * 60
