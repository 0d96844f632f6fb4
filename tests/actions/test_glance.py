"""The seven answers at the board's head: nothing that is not known, or not listed, is told as fine."""

from dataclasses import replace

import pytest

from dispatch.actions import board_reading, glance, show_board
from dispatch.actions.glance import Beside
from dispatch.actions.seen import News
from dispatch.actions.slots import Slot
from dispatch.records.models import Job
from dispatch.trade.spans import Span
from tests.actions import plans
from tests.actions.test_moves import placed

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
NOTHING = Beside((), (), News(since=None, lines=(), more=0))


@pytest.fixture
def late():
    """Return a draft that washes a boat on Tuesday, promised by Monday evening."""
    plans.wash(plans.outfit())
    Job.objects.update(promise=Job.Promise.HARD, promised_by=plans.at(24, "17:00"))
    return placed()


def answers(plan, beside=NOTHING, **changes: object):
    board = replace(show_board.board(plan), **changes)
    lines = glance.of(board_reading.read(plan), board, beside)
    return {line.name: line for line in lines}


def test_there_are_seven_answers_in_the_order_they_are_asked_and_the_sky(late):
    assert list(answers(late)) == [
        "Wet or setting",
        "Spray slots",
        "Promises",
        "Crew",
        "Stores",
        "Changed",
        "Not told",
        "Sky",
    ]


def test_a_promise_that_breaks_is_told_though_seven_snags_are_heavier(late):
    board = show_board.board(late)
    told = answers(late, snags=(), unlisted=board.snags)["Promises"]
    assert told.trouble
    assert "promised by Mon 17:00, a hard date" in told.says


def test_a_promise_of_work_that_has_no_visit_is_told(late):
    late.plan |= {
        "van_days": [],
        "unplaced": [
            {"stage": "j1.wash", "code": "no-room", "why": "No place was found."}
        ],
    }
    late.save()
    told = answers(late)["Promises"]
    assert told.trouble
    assert told.says.endswith(
        "Not done this week, though promised by Mon 17:00, a hard date"
    )


def test_a_promise_with_time_to_spare_is_no_trouble(late):
    Job.objects.update(promised_by=plans.at(30, "17:00"))
    told = answers(late)["Promises"]
    assert (told.says, told.trouble) == ("all kept, with time to spare", False)


def test_a_product_nobody_estimated_is_not_told_as_enough():
    plans.coat(plans.outfit())
    coats = [("j1.port-as-she-lies", "09:30", "10:55")]
    plan = plans.draft([(28, "07:30", "12:00", coats)])
    board = show_board.board(plan)
    guessed = tuple(
        replace(one, first_short=None, not_estimated=("Fill",)) for one in board.stores
    )
    assert guessed
    told = answers(plan, stores=guessed)["Stores"].says
    assert told.endswith("not known")


def test_who_rides_nowhere_on_the_next_working_day_is_idle(late):
    plans.person("corin", "Corin Vale", "CV")
    plan = placed()
    assert answers(plan)["Crew"].says.endswith("idle Tue: Corin Vale")


def test_a_visit_that_has_begun_leaves_nobody_who_was_told(late):
    said = answers(late, state="standing")["Not told"].says
    assert said == "everybody to come to was told"
    begun = plans.at(25, "09:00")
    said = answers(late, state="standing", now=begun)["Not told"].says
    assert said == "no visit to come"


@pytest.mark.parametrize(
    ("mark", "says"),
    [
        ("forbids", "forbids 1 visit, first Tue 09:00, Second Wind"),
        ("unknown", "not known for 1 visit, so no go, first Tue 09:00, Second Wind"),
        ("likely", "only likely for 1 visit, first Tue 09:00, Second Wind"),
        ("", "allows every visit to come"),
    ],
)
def test_what_the_sky_says_of_all_visits_to_come(late, mark, says):
    (place,) = show_board.board(late).places
    (row,) = place.boats
    marked = tuple(replace(one, sky=mark) for one in row.segments)
    boats = (replace(row, segments=marked),)
    told = answers(late, places=(replace(place, boats=boats),))["Sky"]
    assert told.says == says
    assert told.trouble == (mark in ("forbids", "unknown"))


def test_no_promise_is_not_told_as_kept(late):
    Job.objects.update(promise=Job.Promise.NONE, promised_by=None)
    assert answers(late)["Promises"].says == "none given for this week's boats"


def test_hours_for_a_coat_are_not_told_as_free_without_a_forecast_or_by_an_old_one(
    late,
):
    span = Span(plans.at(28, "07:30"), plans.at(28, "19:00"))
    slot = Slot(
        stage="j1.port",
        boat="Second Wind",
        name="Spray port",
        span=span,
        minutes=75,
        spare=615,
        free=(),
    )
    beside = replace(NOTHING, slots=(slot,))
    sky = show_board.board(late).sky
    fresh = answers(late, beside, sky=replace(sky, stale=False))["Spray slots"]
    assert fresh.says.startswith("best Fri 07:30-19:00 for Second Wind")
    assert not fresh.trouble
    old = replace(sky, issued_at=plans.at(22, "07:30"), stale=True)
    told = answers(late, beside, sky=old, now=plans.at(23, "19:30"))["Spray slots"]
    assert "The forecast is 36 h old, so look again" in told.says
    assert told.trouble
    (place,) = show_board.board(late).places
    (row,) = place.boats
    rained = tuple(replace(one, sky="forbids") for one in row.segments)
    newer = (replace(place, boats=(replace(row, segments=rained),)),)
    told = answers(late, beside, sky=replace(sky, stale=False), places=newer)
    assert "the newer sky forbids visits" in told["Spray slots"].says
    assert told["Spray slots"].trouble
    none = answers(late, beside, sky=replace(sky, issued_at=None))["Spray slots"]
    assert none.says == "not known without a forecast, so none counts"
    assert none.trouble
