"""A job put off after its week was posted: its visits go, and the trip of a van that is left with nothing to do."""

import pytest

from dispatch.actions import (
    board_lines,
    board_reading,
    job_states,
    planning,
    show_board,
    taken_off,
)
from dispatch.records.models import Job, Outfit, VanDay, Visit, WeekPlan
from tests.actions import plans
from tests.actions.test_moves import placed
from tests.web import people

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]


@pytest.fixture
def owner():
    return people.owner()


@pytest.fixture
def posted(owner):
    plans.wash(plans.outfit())
    plan = placed()
    planning.post(plan, by=owner, why="So be it.")
    return plan


def put_off(owner):
    return job_states.move(Job.objects.get(), Job.State.PUT_OFF, by=owner, why="Rain.")


def test_no_van_is_sent_out_with_nothing_to_do(posted, owner):
    assert VanDay.objects.count() == 1
    assert put_off(owner) == 1
    assert not Visit.objects.exists()
    assert not VanDay.objects.exists()
    plan = WeekPlan.objects.get()
    assert plan.plan["van_days"] == []
    reading = board_reading.read(plan)
    assert all(line.trips == () for line in board_lines.vans(reading))
    assert all(line.used_minutes == 0 for line in board_lines.people(reading))
    board = show_board.board(plan)
    assert all(row.segments == () for row in board.boats)


def test_a_trip_that_has_left_stays_as_it_was(posted, owner):
    Outfit.objects.update(stands_at=VanDay.objects.get().depart)
    put_off(owner)
    assert VanDay.objects.count() == 1
    assert len(WeekPlan.objects.get().plan["van_days"]) == 1


def test_a_trip_with_another_boat_goes_on(posted, owner):
    plan = WeekPlan.objects.get()
    (row,) = plan.plan["van_days"]
    other = {"do": "visit", "stage": "j9.wash", "start": 2700, "end": 2760}
    plan.plan["van_days"] = [row | {"stops": [*row["stops"], other]}]
    plan.save()
    put_off(owner)
    (left,) = WeekPlan.objects.get().plan["van_days"]
    assert [stop["stage"] for stop in left["stops"]] == ["j9.wash"]


@pytest.mark.parametrize(
    ("off", "said"),
    [
        (0, ""),
        (1, " 1 posted visit was taken off."),
        (2, " 2 posted visits were taken off."),
    ],
)
def test_how_many_visits_were_taken_off_is_said_of_one_and_of_several(off, said):
    assert taken_off.counted(off) == said
