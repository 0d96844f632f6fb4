"""What stands beneath the board, and the line each part has where a phone folds it."""

import pytest

from dispatch.actions import seen, show_board
from dispatch.records.models import Week, WeekPlan
from dispatch.web.owner import more
from tests.actions import plans
from tests.web import people

pytestmark = pytest.mark.django_db
FRIDAY = (28, "07:30", "11:30", [("j1.mask", "07:40", "08:35")])
NO_ROOM = {"stage": "j1.finish", "code": "no-room", "why": "No place was found."}
WAITS = {"stage": "j1.letters", "code": "waits-for", "why": "It comes after j1.finish."}


@pytest.fixture
def told():
    """Return the lines of a draft that leaves the end of a coat out."""
    place = plans.outfit()
    plans.coat(place)
    plan = plans.draft([FRIDAY], [NO_ROOM, WAITS])
    return more.of(plan, people.owner(), show_board.board(plan))["folded"]


def test_what_is_left_out_is_counted_with_whose_it_is(told):
    assert told["left_out"].says == "2 stages of Second Wind"


def test_the_answers_at_the_head_are_the_lines_of_their_parts(told):
    assert told["slots"].says.startswith("best ")
    assert told["untold"].says == "nobody is told of a draft"


def test_a_week_without_a_plan_still_tells_what_changed():
    plans.outfit()
    owner = people.owner()
    seen.look(by=owner)
    owner.refresh_from_db()
    empty = WeekPlan(week=Week(starts_on=plans.MONDAY))
    lines = more.of(empty, owner, show_board.board(empty))["folded"]
    assert lines["news"].says == "nothing since you last looked"
    assert "slots" not in lines
