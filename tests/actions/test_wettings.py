"""What wets a place every week: on its days, by its clock, and judged as a dated wetting is."""

from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from dispatch.actions import (
    boat_help,
    facts,
    place_card,
    places,
    weather,
    wettings,
    windows,
)
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Closure, HistoryEntry, Place, Stage
from dispatch.trade.spans import Span
from dispatch.trade.words import Words
from tests.actions import plans, shop

pytestmark = pytest.mark.django_db
WEEK = Span(plans.at(24, "00:00"), plans.at(24, "00:00") + timedelta(days=7))


def sprinkler(begins="04:00", ends="04:20", days=(0, 1, 2, 3, 4, 5, 6)):
    return {"what": "Lawn sprinkler", "days": list(days), "from": begins, "to": ends}


@pytest.fixture
def place():
    shop.outfit()
    return shop.driveway(wettings=[sprinkler()])


def test_it_comes_on_each_of_its_days_at_its_hour(place):
    found = wettings.spans(place, WEEK)
    assert found == tuple(
        Span(plans.at(day, "04:00"), plans.at(day, "04:20")) for day in range(24, 31)
    )
    place.wettings = [sprinkler(days=(2, 5))]
    assert [one.start for one in wettings.spans(place, WEEK)] == [
        plans.at(26, "04:00"),
        plans.at(29, "04:00"),
    ]


def test_one_over_midnight_reaches_the_next_day(place):
    place.wettings = [sprinkler("23:45", "00:15", days=(6,))]
    first = Span(plans.at(23, "23:45"), plans.at(24, "00:15"))
    assert first in wettings.spans(place, WEEK)
    assert wettings.spans(place, Span(plans.at(24, "00:15"), plans.at(24, "12:00"))) == ()  # fmt: skip


def test_it_keeps_to_the_clock_where_the_clocks_change(place):
    """New York leaves daylight saving time on 7 November 2027: 04:00 is 08:00 UTC before it and 09:00 UTC from it on."""
    zone = ZoneInfo(place.time_zone)
    start = datetime(2027, 11, 6, tzinfo=zone)
    found = wettings.spans(place, Span(start, start + timedelta(days=2)))
    assert [one.start.hour for one in found] == [8, 9]


def test_the_crew_and_the_boats_owner_are_told(place):
    card = place_card.of(place, date(2027, 5, 24), Words())
    assert "Known wetting 04:00 to 04:20: Lawn sprinkler" in card.shut
    assert wettings.comes(place, plans.at(24, "12:00"))


def test_the_customer_is_asked_to_turn_it_off():
    place = plans.outfit()
    job = plans.coat(place)
    asked = "Turn the sprinkler off, the night before too."
    assert asked not in list(boat_help.before(job, plans.at(25, "08:00")))
    Place.objects.update(wettings=[sprinkler()])
    job.boat.place.refresh_from_db()
    assert asked in list(boat_help.before(job, plans.at(25, "08:00")))


def test_it_is_judged_as_a_dated_one_is():
    """Every day at two in the afternoon: the hours it leaves for a coat are those that rows of each date leave."""
    place = plans.outfit()
    plans.coat(place)
    free = hours()
    Closure.objects.bulk_create(
        Closure(
            place=place,
            kind="wetting",
            start=plans.at(24, "14:00") + timedelta(days=day),
            end=plans.at(24, "14:30") + timedelta(days=day),
            reason="Lawn sprinkler",
        )
        for day in range(-2, 20)
    )
    dated = hours()
    Closure.objects.all().delete()
    Place.objects.update(wettings=[sprinkler("14:00", "14:30")])
    weekly = hours()
    assert weekly == dated
    assert weekly != free


def hours():
    stage = Stage.objects.select_related("job__boat__place").get(key="port-as-she-lies")
    weather.judge(stage)
    return [one.span for one in windows.of(stage, WEEK)]


def test_it_is_set_by_the_owner_with_its_line_in_the_history(place):
    owner = Account.objects.create(username="orla", role="owner")
    places.change(place, {"wettings": [sprinkler("06:00", "06:30", range(5))]}, by=owner)  # fmt: skip
    assert "now Lawn sprinkler Mon to Fri 06:00 to 06:30 (was Lawn sprinkler every day 04:00 to 04:20)" in HistoryEntry.objects.get().sentence  # fmt: skip
    place.refresh_from_db()
    assert facts.site(place, WEEK).known_wettings[0].start == plans.at(24, "06:00")


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"what": ""}, "Say what wets"),
        ({"days": []}, "choose its days"),
        ({"days": [7]}, "choose its days"),
        ({"from": None}, "give the time"),
        ({"to": "04:00"}, "give the time"),
    ],
)
def test_what_will_not_do_is_refused_with_a_sentence(place, wrong, said):
    owner = Account.objects.create(username="orla", role="owner")
    with pytest.raises(Refused, match=said):
        places.change(place, {"wettings": [sprinkler() | wrong]}, by=owner)
