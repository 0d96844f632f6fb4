"""A report that waited on a phone with a wrong clock: put right by how far it is off, flagged where that cannot be."""

from datetime import timedelta

import pytest
import time_machine

from dispatch.actions import phone_clock
from dispatch.actions.errors import Refused
from dispatch.actions.phone_clock import Made
from dispatch.records.models import HistoryEntry, Outfit, Place
from tests.actions import posted

pytestmark = pytest.mark.django_db


@pytest.fixture
def rook():
    posted.sprayed()
    Outfit.objects.update(stands_at=None)
    return posted.person("rook")


def moment(rook, clock, ahead=0, *, now="13:00", day=posted.MONDAY):
    made = Made(at=posted.at(clock), ahead=timedelta(minutes=ahead))
    with time_machine.travel(posted.at(now), tick=False):
        return phone_clock.moment(made, Place.objects.get(), day, rook)


def said():
    return [row.sentence for row in HistoryEntry.objects.filter(verb="put-clock-right")]


def test_a_fast_phone_is_put_right_and_the_history_has_both_times(rook):
    assert moment(rook, "12:27", 47) == posted.at("11:40")
    assert said() == [
        "Rook's phone is 47 min fast: Mon 12:27 by it counts as Mon 11:40."
    ]


def test_a_slow_one_too(rook):
    assert moment(rook, "09:00", -180) == posted.at("12:00")
    assert "3 h slow: Mon 09:00 by it counts as Mon 12:00" in said()[0]


def test_a_right_one_is_left_alone(rook):
    assert moment(rook, "11:40", 1) == posted.at("11:39")
    assert said() == []


def test_what_would_lie_ahead_is_flagged_with_the_numbers(rook):
    with pytest.raises(Refused) as flagged:
        moment(rook, "14:30", 47)
    assert str(flagged.value) == (
        "Mon 13:43 (by your phone Mon 14:30, and it is 47 min fast) has not come yet; it is Mon 13:00. "
        "Enter the time it happened."
    )
    assert moment(rook, "13:01") == posted.at("13:00")


def test_what_would_lie_before_its_day_is_flagged(rook):
    with pytest.raises(
        Refused, match=r"Mon 11:40 is before the day it is of, Tue 25 May"
    ):
        moment(rook, "11:40", now="13:00", day=posted.MONDAY.replace(day=25))


def test_nothing_lies_ahead_of_the_demos_clock(rook):
    Outfit.objects.update(stands_at=posted.at("11:00"))
    assert moment(rook, "12:27", 47) == posted.at("11:00")
    assert said() == []
