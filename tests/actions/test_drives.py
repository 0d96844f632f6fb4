"""Drives are told by plugins in a task and stored; what people drove goes first, what nobody knows is reckoned."""

import pytest

from dispatch.actions import (
    drives,
    plugin_list,
    plugins,
    settings,
    snapshot_gear,
    sweeping,
)
from dispatch.records.models import DriveTime, DueWork, Place, PluginState
from tests.actions import plans, posted
from tests.plugins import roads

pytestmark = pytest.mark.django_db


@pytest.fixture
def places():
    """A shop that a van starts from and a driveway where a boat lies."""
    posted.sprayed()
    posted.van_day(posted.person("rook"))
    return Place.objects.in_bulk(["s0", "s5"], field_name="key")


@pytest.fixture
def service():
    with roads.serving() as one:
        plugins.enable("drive_times_http", {"address": one.address, "tries": 1})
        yield one


def minutes(a: Place, b: Place) -> int:
    """What the planner goes by."""
    rows = snapshot_gear.places()
    keys = [row.key for row in rows]
    found = snapshot_gear.drives(rows)["drive_min"]
    return found[keys.index(a.key)][keys.index(b.key)] - b.sign_in_minutes


def served(a: Place, b: Place) -> int:
    ends = (a.latitude, a.longitude), (b.latitude, b.longitude)
    return -(-int(roads.seconds(*ends)) // 60) + 3


def test_what_a_service_tells_is_what_the_planner_goes_by(places, service):
    shop, drive = places["s0"], places["s5"]
    before = minutes(shop, drive)
    drives.later()
    assert minutes(shop, drive) == before
    sweeping.sweep()
    assert abs(minutes(shop, drive) - served(shop, drive)) <= 1
    assert abs(minutes(drive, shop) - served(drive, shop)) <= 1
    assert drives.known("drive_times_http") == drives.Known(told=2, of=2)


def test_the_owner_sees_how_many_drives_it_told(places, service):
    assert "It told 0 of 2 drives" in plugin_list.named("drive_times_http").holds
    drives.measure()
    said = plugin_list.named("drive_times_http").holds
    assert said == "It told all 2 drives between places in use."


def test_what_people_drove_goes_before_what_a_service_says(places, service):
    shop, drive = places["s0"], places["s5"]
    drives.measure()
    DriveTime.objects.create(origin=shop, destination=drive, minutes=77, metres=9000)
    assert minutes(shop, drive) == 77
    assert abs(minutes(drive, shop) - served(drive, shop)) <= 1


def test_what_one_leaves_out_the_next_is_asked_for(places, service):
    shop, drive = places["s0"], places["s5"]
    service.cut_off = {(drive.latitude, drive.longitude)}
    reckoned = minutes(shop, drive)
    plugins.enable("drive_times_table", {})
    drives.measure()
    assert minutes(shop, drive) == reckoned
    sources = set(DriveTime.objects.values_list("source", flat=True))
    assert sources == {"drive_times_table"}


def test_a_service_that_fails_leaves_what_it_told_before(places, service):
    shop, drive = places["s0"], places["s5"]
    drives.measure()
    told = minutes(shop, drive)
    service.status = 500
    drives.measure()
    assert minutes(shop, drive) == told
    assert "answered 500" in PluginState.objects.get().last_fault


def test_what_was_told_of_a_place_that_has_moved_counts_no_more(places, service):
    shop, drive = places["s0"], places["s5"]
    drives.measure()
    Place.objects.filter(key="s5").update(longitude=drive.longitude + 0.2)
    assert drives.known("drive_times_http").told == 0
    asked = len(service.asked)
    moved = minutes(shop, Place.objects.get(key="s5"))
    assert len(service.asked) == asked
    drives.measure()
    assert minutes(shop, Place.objects.get(key="s5")) != moved


def test_one_that_is_turned_off_is_not_gone_by(places, service):
    shop, drive = places["s0"], places["s5"]
    reckoned = minutes(shop, drive)
    drives.measure()
    PluginState.objects.update(enabled=False)
    assert minutes(shop, drive) == reckoned


def test_a_change_of_speed_has_drives_told_anew(places):
    owner = plans.owner()
    plugins.enable("drive_times_table", {})
    drives.measure()
    before = minutes(places["s0"], places["s5"])
    settings.change("travel.km_per_hour", 20, by=owner)
    assert DueWork.objects.filter(verb=drives.VERB, done_at=None).exists()
    sweeping.sweep()
    assert minutes(places["s0"], places["s5"]) > before


def test_without_a_plugin_nothing_is_asked_and_distance_serves(places):
    drives.later()
    assert not DueWork.objects.filter(verb=drives.VERB).exists()
    assert minutes(places["s0"], places["s5"]) > 0
