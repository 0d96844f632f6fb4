"""A plan of the rest keeps who rides and when, where changing it is worth next to nothing."""

import pytest

from dispatch.actions import least_change
from dispatch.planner.by_hand import Where, put, swap
from dispatch.planner.plan import read_plan, write_plan
from dispatch.planner.read import read_problem
from dispatch.records.models import Setting
from tests.planner import weeks

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]


@pytest.fixture(scope="module")
def week():
    problem, plan = weeks.saved("ten_jobs")
    return problem, plan | {"bound": None}


def starts(plan):
    return {
        name: row[1].start
        for name, row in read_plan(plan | {"bound": None}).visits().items()
    }


def teams(plan):
    return {(row["van"], row["day"]): sorted(row["team"]) for row in plan["van_days"]}


def shifted(problem, plan, minutes):
    """Return the plan with one visit later by so many minutes that nothing else moves for, and which."""
    week, made = read_problem(problem), read_plan(plan)
    for name, (trip, visit) in made.visits().items():
        where = Where(van=trip.van, day=trip.day, start=visit.start + minutes)
        done = put(week, made, name, where)
        if done.plan and not done.moved and not done.lost:
            return name, write_plan(done.plan) | {"bound": None}
    raise AssertionError("No visit of the saved week has that much room.")


def swapped(problem, plan):
    """Return the plan with two people of one day in each other's van."""
    week, made = read_problem(problem), read_plan(plan)
    for trip in made.van_days:
        for into in sorted(set(week.people) - set(trip.team)):
            for out in trip.team:
                done = swap(week, made, (trip.van, trip.day), out, into)
                if done.plan and not done.lost and abs(done.cents) < 1000:
                    return write_plan(done.plan) | {"bound": None}
    raise AssertionError("Nobody of the saved week can be swapped for so little.")


def test_a_visit_that_only_slid_by_minutes_starts_when_people_were_told(week):
    problem, plan = week
    name, later = shifted(problem, plan, 15)
    assert starts(later)[name] == starts(plan)[name] + 15
    made = least_change.settled(problem, later, plan)
    assert starts(made) == starts(plan)
    assert weeks.faults(problem, made) == []


def test_a_visit_moved_by_more_than_anybody_minds_stays_moved(week):
    problem, plan = week
    name, later = shifted(problem, plan, 15)
    Setting.objects.create(name="planning.told_within_minutes", value=10)
    made = least_change.settled(problem, later, plan)
    assert starts(made)[name] == starts(later)[name]


def test_people_swapped_for_next_to_nothing_ride_as_they_were_told(week):
    problem, plan = week
    other = swapped(problem, plan)
    assert teams(other) != teams(plan)
    made = least_change.settled(problem, other, plan)
    assert teams(made) == teams(plan)
    assert weeks.faults(problem, made) == []


def test_a_plan_that_changes_nothing_stays_what_it_is(week):
    problem, plan = week
    made = least_change.settled(problem, plan, plan)
    assert starts(made) == starts(plan)
    assert teams(made) == teams(plan)
    assert made["cost"]["total"] == plan["cost"]["total"]
