"""Changes by hand: what fits is judged by the outside judge (tests/bench/outside), what does not says its numbers."""

from dataclasses import replace

import pytest

from dispatch.planner.by_hand import Where, frozen, put, swap, without
from dispatch.planner.cost import cost
from dispatch.planner.plan import read_plan, write_plan
from dispatch.planner.read import read_problem
from tests.planner import weeks


def outside_faults(problem, plan):
    """Return what the outside judge finds, and its price beside ours."""
    return weeks.faults(problem, write_plan(plan))


@pytest.fixture(scope="module", params=["ten_jobs", "rich_noon"])
def week(request):
    raw, plan = weeks.saved(request.param)
    return raw, read_problem(raw), read_plan(plan | {"bound": None})


def tries(problem, plan):
    """Yield every visit at several places of the week."""
    for name, (van_day, visit) in sorted(plan.visits().items()):
        for shift in (-45, -10, 15, 60):
            yield (
                name,
                Where(van=van_day.van, day=van_day.day, start=visit.start + shift),
            )
        for other in plan.van_days[::3]:
            begins = problem.days[other.day][0] + 600
            yield name, Where(van=other.van, day=other.day, start=begins)


def test_what_fits_keeps_every_rule_and_is_where_it_was_put(week):
    raw, problem, plan = week
    fits = 0
    before = cost(problem, plan)["total"]
    for name, where in tries(problem, plan):
        done = put(problem, plan, name, where)
        if done.plan is None:
            assert done.why_not
            assert all(line.endswith(".") for line in done.why_not)
            continue
        fits += 1
        van_day, visit = done.plan.visits()[name]
        assert (van_day.van, van_day.day, visit.start) == (
            where.van,
            where.day,
            where.start,
        )
        assert outside_faults(raw, done.plan) == []
        assert done.cents == done.plan.cost["total"] - before
        assert done.lost == ()
    assert fits >= 5


def test_what_does_not_fit_says_by_how_much(week):
    _, problem, plan = week
    name, (van_day, visit) = next(
        (name, found)
        for name, found in plan.visits().items()
        if problem.stages[name].after and problem.days[found[0].day][0] > problem.now
    )
    first = problem.days[van_day.day][0]
    done = put(
        problem, plan, name, Where(van=van_day.van, day=van_day.day, start=first + 5)
    )
    assert done.plan is None
    assert any(
        "day" in line and any(c.isdigit() for c in line) for line in done.why_not
    )
    assert plan.visits()[name][1] == visit


def test_a_van_without_a_team_asks_who_goes(week):
    _, problem, plan = week
    used = {(vd.van, vd.day) for vd in plan.van_days}
    van, day = next(
        (van, day)
        for day in range(3, len(problem.days))
        for van in problem.vans
        if (van, day) not in used
    )
    name = next(name for name in plan.visits() if name not in frozen(problem))
    where = Where(van=van, day=day, start=problem.days[day][0] + 600)
    assert put(problem, plan, name, where).why_not == (
        f"{van} has nobody to ride it on day {day + 1}. Say who goes.",
    )


def test_people_change_places_and_every_rule_is_kept(week):
    raw, problem, plan = week
    fits = 0
    for van_day in plan.van_days:
        for into in problem.people:
            done = swap(
                problem, plan, (van_day.van, van_day.day), van_day.team[0], into
            )
            if done.plan is None:
                assert done.why_not
                continue
            fits += 1
            assert outside_faults(raw, done.plan) == []
            teams = {(v.van, v.day): v.team for v in done.plan.van_days}
            assert into in teams[van_day.van, van_day.day]
            assert van_day.team[0] not in teams[van_day.van, van_day.day]
    assert fits


def test_a_job_taken_out_leaves_the_others_their_hours(week):
    raw, problem, plan = week
    free = [name for name in plan.visits() if name not in frozen(problem)]
    job = problem.stages[free[0]].job
    gone = [name for name in free if problem.stages[name].job == job]
    done = without(problem, plan, gone)
    assert set(done.lost) == set(gone)
    assert done.moved == ()
    assert outside_faults(raw, done.plan) == []
    again = {row.stage for row in done.plan.unplaced}
    assert set(gone) <= again


def test_the_first_stage_of_a_left_out_job_is_put_back_and_what_waited_says_so(week):
    raw, problem, plan = week
    seen = plan.visits()
    for name in sorted(seen):
        out = without(problem, plan, [name]).plan
        waited = [] if out is None else _recoded(out, name)
        if not waited or name in frozen(problem):
            continue
        van_day, visit = seen[name]
        at = {"van": van_day.van, "day": van_day.day, "start": visit.start}
        done = put(problem, waited[0], name, Where(**at, team=van_day.team))
        if done.plan is not None:
            assert outside_faults(raw, done.plan) == []
            said = {row.stage: row for row in done.plan.unplaced}
            assert said[waited[1]].code == "no-room"
            assert "by hand since" in said[waited[1]].why
            return
    pytest.fail("No job of that week could be taken out and begun again.")


def _recoded(out, name):
    """The plan with one stage that is left out said to wait for the named one, and that stage."""
    after = [
        row.stage
        for row in out.unplaced
        if row.stage != name and row.stage.partition(".")[0] == name.partition(".")[0]
    ]
    if not after:
        return []
    rows = tuple(
        replace(row, code="waits-for") if row.stage == after[0] else row
        for row in out.unplaced
    )
    return [replace(out, unplaced=rows), after[0]]
