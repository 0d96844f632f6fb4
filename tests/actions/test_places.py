"""A place changed by its owner: with history, and with what hangs on it judged and reckoned again."""

from datetime import time

import pytest

from dispatch.actions import keeping, places, ready, sweeping, visit_sky, windows
from dispatch.actions.errors import Refused, Stale, Stranger
from dispatch.records.models import DueWork, HistoryEntry, Person, Place, Stage
from dispatch.trade.spans import Span
from tests.actions import plans, posted, shop

pytestmark = pytest.mark.django_db


@pytest.fixture
def place():
    shop.outfit()
    return shop.driveway()


@pytest.fixture
def owner(place):
    return plans.owner()


@pytest.fixture
def coat():
    return plans.coat(plans.outfit())


def told():
    return list(
        HistoryEntry.objects.filter(verb="set-place").values_list("sentence", flat=True)
    )


def test_the_heat_rule_is_set_with_its_history(place, owner):
    places.change(place, {"heat_rule": "wbgt"}, by=owner, why="Our state asks for it")
    assert Place.objects.get().heat_rule == "wbgt"
    entry = HistoryEntry.objects.get(verb="set-place")
    assert entry.sentence == (
        "Marrow Road: “Heat is judged by” now wbgt, estimated (was air or heat index, the stricter)."
    )
    assert (entry.by, entry.why) == (owner, "Our state asks for it")


def test_what_is_the_same_leaves_no_line(place, owner):
    places.change(place, places.values(place), by=owner)
    assert told() == []
    assert not DueWork.objects.exists()


def test_rows_are_set_as_a_whole_and_told_in_the_outfits_units(place, owner):
    car = {"what": "Car", "bearing_deg": 45.0, "distance_m": 9.144}
    hours = [(0, time(8), time(12)), (0, time(13), time(17))]
    places.change(place, {"neighbours": [car], "hours": hours}, by=owner)
    assert Place.objects.get().neighbours == [car]
    assert place.access_hours.count() == 2
    said = " ".join(told())
    assert "“Neighbours” now Car 30 ft off at 45° (was none)" in said
    assert "now Mon 08:00 to 12:00; Mon 13:00 to 17:00" in said


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({"latitude": -123.4}, "may be swapped"),
        ({"latitude": float("nan")}, "from -90 to 90"),
        ({"wind_factor": "calm"}, "from 0 to 3"),
        ({"heat_rule": "sweat"}, "Choose one of"),
        ({"time_zone": "Maine"}, "There is no time zone Maine"),
        ({"name": ""}, "a name of at most 80"),
        ({"water": "yes"}, "Say yes or no"),
        ({"key": "x"}, "has no key to change"),
        ({"hours": [(1, time(9), time(8))]}, "Tue: give both times"),
        ({"hours": [(1, time(9), time(12)), (1, time(11), time(15))]}, "overlap"),
        (
            {"neighbours": [{"what": "Car", "bearing_deg": 400, "distance_m": 3}]},
            "Car: give its bearing",
        ),
        (
            {"neighbours": [{"what": "", "bearing_deg": 40, "distance_m": 3}]},
            "Say what stands near",
        ),
        (
            {"horizon": [{"from_deg": 10, "to_deg": 20, "elevation_deg": 95}]},
            "from 0 to 90 degrees",
        ),
        (
            {"closures": [{"kind": "shut", "start": None, "end": None, "reason": "x"}]},
            "the later ones it ends",
        ),
    ],
)
def test_what_will_not_do_is_refused_in_a_sentence_and_nothing_is_written(
    place, owner, given, says
):
    before = keeping.print_of(places.values(place))
    with pytest.raises(Refused, match=says):
        places.change(place, {"power": False} | given, by=owner)
    assert keeping.print_of(places.values(Place.objects.get())) == before
    assert told() == []


def test_nobody_but_the_owner_changes_a_place(place):
    crew = posted.person("rook").account
    with pytest.raises(Stranger):
        places.change(place, {"water": False}, by=crew)


def test_two_who_change_it_at_once_do_not_overwrite_one_another(place, owner):
    seen = keeping.print_of(places.values(place))
    places.change(place, {"gate": "Code 4411"}, by=owner, seen=seen)
    with pytest.raises(Stale, match="nothing of yours is stored"):
        places.change(place, {"gate": "Code 2020"}, by=owner, seen=seen)
    assert Place.objects.get().gate == "Code 4411"


def test_what_is_gone_by_stays_as_it_was(place, owner):
    gone, ahead = (
        {
            "kind": "shut",
            "start": plans.at(day, "07:00"),
            "end": plans.at(day, "18:00"),
            "reason": "Race",
        }
        for day in (20, 26)
    )
    place.closures.create(**gone)
    places.change(place, {"closures": [ahead]}, by=owner)
    assert [row.start for row in place.closures.all()] == [
        gone["start"],
        ahead["start"],
    ]
    places.change(place, {"closures": []}, by=owner)
    assert place.closures.get().start == gone["start"]


def test_a_hedge_gives_shade_once_the_stages_are_judged_again(coat):
    port = coat.stages.get(key="port-as-she-lies")
    friday = Span(plans.at(28, "06:00"), plans.at(28, "12:00"))
    before = windows.of(port, friday)
    hedge = {"from_deg": 0.0, "to_deg": 360.0, "elevation_deg": 89.0}
    places.change(coat.boat.place, {"horizon": [hedge]}, by=plans.owner())
    assert windows.of(fresh(port), friday) == ()
    sweeping.sweep()
    after = windows.of(fresh(port), friday)
    assert total(after) > total(before)


def fresh(stage):
    return Stage.objects.select_related("job__boat__place", "sheet").get(pk=stage.pk)


def total(found):
    return sum(one.span.length.total_seconds() for one in found)


def test_without_water_the_work_takes_longer(coat):
    prep = coat.stages.get(key="prep")
    places.change(coat.boat.place, {"water": False}, by=plans.owner())
    sweeping.sweep()
    assert fresh(prep).minutes["2"] > prep.minutes["2"]


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"spray_rule": "none"}, "allows no spraying"),
        ({"spray_rule": "roof"}, "under a roof only"),
        ({"afloat": True}, "allows no spraying"),
    ],
)
def test_a_place_that_forbids_spraying_is_a_wall_at_once_for_what_is_posted_too(
    coat, change, says
):
    port = coat.stages.get(key="port-as-she-lies")
    rook = Person.objects.get(key="rook")
    day = posted.van_day(rook, day=plans.at(28, "08:00").date())
    visit = posted.visit(day, port, "09:30", 85)
    places.change(coat.boat.place, change, by=plans.owner())
    sweeping.sweep()
    asked = Span(visit.start, visit.end)
    assert visit_sky.of(fresh(port), asked, shop.NOW).word == visit_sky.FORBIDS
    visit.refresh_from_db()
    assert says in visit.spoilt
    posted.Outfit.objects.update(stands_at=plans.at(28, "08:00"))
    said = ready.of(posted.Visit.objects.get(pk=visit.pk), plans.at(28, "08:00"))
    assert said.word != ready.GO
    prep = coat.stages.get(key="prep")
    assert windows.of(fresh(prep), Span(plans.at(25, "06:00"), plans.at(25, "20:00")))


def test_a_declination_turns_the_headings_that_were_read_by_compass(coat):
    boat = coat.boat
    type(boat).objects.update(heading_deg=90, heading_reference="magnetic")
    places.change(boat.place, {"declination_deg": -10.0}, by=plans.owner())
    assert fresh(coat.stages.get(key="port-as-she-lies")).heading_true_deg == 80
    with pytest.raises(Refused, match="was read by compass here"):
        places.change(
            boat.place,
            {"declination_deg": None},
            by=posted.Account.objects.get(role="owner"),
        )
