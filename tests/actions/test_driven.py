"""Drives learnt from reports, by hand-reckoned examples: an invented yard 10 km off and days of invented reports.

How many drives count and how far they may move the minutes are the house's own assumptions.
"""

from datetime import timedelta

import pytest

from dispatch.actions import driven, drives, plugins, snapshot_gear
from dispatch.planner import travel
from dispatch.records.models import (
    Boat,
    Customer,
    Equipment,
    Job,
    JobKind,
    Place,
    Stage,
    Tow,
)
from dispatch.trade import spans
from tests.actions import posted, shop
from tests.web import people

pytestmark = pytest.mark.django_db


# Packing up at the driveway, and signing in at the yard.
BESIDE = 10 + 8


@pytest.fixture
def yard():
    posted.sprayed()
    posted.person("rook")
    made = Place.objects.create(
        key="s9",
        name="Other Yard",
        latitude=44.15,
        longitude=-69.10,
        time_zone="America/New_York",
        sign_in_minutes=8,
    )
    customer = Customer.objects.get()
    boat = Boat.objects.create(
        key="other", name="Other", customer=customer, length_m=6, place=made
    )
    kind = JobKind.objects.get(key="wash")
    Job.objects.create(key="j9", boat=boat, kind=kind, taken_at=shop.NOW)
    return made


def stage(job: str, number: int) -> Stage:
    made = Stage.objects.filter(job__key=job).first() or Stage.objects.first()
    made.pk = None
    made.job, made.key = Job.objects.get(key=job), f"again-{number}"
    made.position = 100 + number
    made.save()
    return made


def reckoned() -> int:
    here, there = (Place.objects.get(key=key) for key in ("s5", "s9"))
    ends = (here.latitude, here.longitude, there.latitude, there.longitude)
    return travel.drive(*ends, travel.Roads())[0]


def day(number: int, minutes: float, *, waits: int = 0, done: bool = True):
    """A day on which the van left the driveway at 10:00 and worked at the yard so many minutes, packing up and its sign-in later."""
    on = posted.MONDAY + timedelta(days=number)
    van_day = posted.van_day(day=on)
    first, then = stage("j1", number), stage("j9", number)
    a = posted.visit(van_day, first, "09:00", 60)
    there = timedelta(minutes=reckoned() + BESIDE + waits)
    b = posted.visit(van_day, then, "09:00", 60)
    type(b).objects.filter(pk=b.pk).update(start=a.end + there, end=a.end + 3 * there)
    if done:
        came = a.end + timedelta(minutes=minutes + BESIDE)
        rows = ((first, a.start, a.end), (then, came, came + timedelta(hours=1)))
        for row, start, end in rows:
            Stage.objects.filter(pk=row.pk).update(
                state="done", started_at=start, ended_at=end
            )
    return van_day, spans.Span(a.end, a.end + there)


def only() -> driven.Driven:
    (one,) = driven.learnt()
    return one


def test_what_was_driven_is_learnt_without_the_signing_in(yard):
    for number in range(3):
        day(number, reckoned() * 1.25)
    found = only()
    assert (found.origin.key, found.destination.key) == ("s5", "s9")
    assert found.count == 3
    assert found.counts
    assert found.minutes == pytest.approx(reckoned() * 1.25, abs=1)


def test_one_bad_day_of_four_moves_it_little_and_none_moves_it_past_twice(yard):
    for number in range(3):
        day(number, reckoned())
    day(3, reckoned() * 9)
    assert only().minutes == reckoned()
    Stage.objects.filter(key__startswith="again").delete()
    for number in range(3):
        day(number + 7, reckoned() * 9)
    assert only().minutes == 2 * reckoned()


def test_two_drives_are_shown_and_not_planned_by(yard):
    for number in range(2):
        day(number, reckoned())
    assert not only().counts


def test_who_waits_rests_tows_or_has_not_done_it_teaches_nothing(yard):
    day(0, reckoned(), waits=45)
    day(1, reckoned(), done=False)
    rests, gap = day(2, reckoned())
    type(rests).objects.filter(pk=rests.pk).update(
        break_start=gap.start, break_end=gap.end
    )
    tows, gap = day(3, reckoned())
    shed = Equipment.objects.create(
        key="shed", name="Shed", kind="spray-trailer", towed=True
    )
    Tow.objects.create(
        van_day=tows,
        equipment=shed,
        origin=Place.objects.get(key="s5"),
        destination=yard,
        start=gap.start,
        end=gap.end,
    )
    assert driven.learnt() == ()


def test_the_planner_goes_by_it_once_a_plugin_tells_it(yard):
    for number in range(3):
        day(number, reckoned() * 1.5)
    plugins.enable("drive_times_table", {})
    rows = snapshot_gear.places()
    keys = [row.key for row in rows]

    def planned():
        found = snapshot_gear.drives(rows)["drive_min"]
        return found[keys.index("s5")][keys.index("s9")]

    assert planned() == reckoned() + 8
    drives.measure()
    assert planned() == only().minutes + 8 > reckoned() + 8


def test_the_places_page_tells_what_was_learnt_and_from_how_many(client, yard):
    client.force_login(people.owner())
    assert "as your crew reports them" not in client.get("/places/").text
    for number in range(2):
        day(number, reckoned() * 1.5)
    page = client.get("/places/").text
    assert "Drives as your crew reports them" in page
    assert "2, too few yet" in page
    assert "counts once a plugin that tells drives by it is turned on" in page
