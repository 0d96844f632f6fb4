"""The planner's sentences with names and days: also on the day the clock changes, and past the week."""

from datetime import date

import pytest

from dispatch.actions import board_reading, timeline
from dispatch.actions.planner_words import dated, said
from dispatch.records.models import Week
from tests.actions import plans

pytestmark = pytest.mark.django_db


def line(monday):
    return timeline.of(Week(starts_on=monday))


@pytest.fixture
def place():
    return plans.outfit()


@pytest.mark.parametrize(
    ("sentence", "told"),
    [
        ("It ends at day 3, 10:20.", "It ends Wed 10:20."),
        ("A window on day 7 would do.", "A window on Sunday would do."),
        ("Promised for day 13, 17:00.", "Promised for Sat 5 Jun 17:00."),
        ("On Friday 3 people are out.", "On Friday 3 people are out."),
        ("On day 30.", "On day 30."),
    ],
)
def test_days_are_told_by_their_names(place, sentence, told):
    assert dated(line(date(2027, 5, 24)), sentence) == told


@pytest.mark.parametrize(
    ("monday", "told"),
    [
        # Clocks there go on an hour at 2:00 on 14 March 2027, and back at 2:00 on 7 November.
        (date(2027, 3, 8), "Sun 11:00"),
        (date(2027, 11, 1), "Sun 09:00"),
    ],
)
def test_elapsed_hours_are_told_by_the_clock_on_the_wall(place, monday, told):
    assert dated(line(monday), "day 7, 10:00") == told


def test_keys_become_names_but_no_part_of_a_word_does(place):
    plans.wash(place)
    plan = plans.draft([])
    sentence = "rook waits for knot, knots and the-shed after j1.wash."
    assert said(board_reading.read(plan), sentence) == (
        "Rook Ferrante waits for Knot, knots and The Shed after “Maintenance wash”."
    )
