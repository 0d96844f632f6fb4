"""Chooses what is left out to make room for, and what to take out of its way."""

from dispatch.planner.core.dice import pick, roll
from dispatch.planner.core.jit import fast
from dispatch.planner.core.price import in_plan
from dispatch.planner.core.roots import begun, has_hours, open_way
from dispatch.planner.core.shapes import Given, Room, Week

JOBWISE = 0.8  # how often what to make room for is chosen by job, not by stage
CLEARED = 0.8  # how often a van-day is cleared for a stage of its job
AGAIN = 0.25  # and how often on a day that one was cleared on already


@fast
def left_out(given: Given, week: Week, room: Room) -> int:
    """Return a stage that is left out and has hours, as a rule of a job that is not whole; -1 for none."""
    target = -1
    if roll(week.dice) < JOBWISE:
        target = _of_a_lacking_job(given, week, room)
    if target < 0:
        target = _a_missing(given, week)
    return target


@fast
def clear_for(given: Given, week: Week, room: Room, target: int) -> int:
    """Make room for a stage that is left out, and for the rest of its job; return the job."""
    job = given.stages[target].job
    if roll(week.dice) < 0.5:
        _clear_along(given, week, room, job)
    else:
        day = _day_from(given, target, pick(week.dice, given.n_days))
        if day >= 0:
            _clear_some(given, week, room, target, day, 1 + pick(week.dice, 3))
    mark_job(given, room, job)
    return job


@fast
def _a_missing(given: Given, week: Week) -> int:
    """Return a stage left out that has hours, -1 for none."""
    stages = week.n_stages
    at = pick(week.dice, stages)
    for k in range(stages):
        stage = (at + k) % stages
        if week.seen[stage].route < 0 and in_plan(given, week, stage):
            if has_hours(given, stage):
                return stage
    return -1


@fast
def _of_a_lacking_job(given: Given, week: Week, room: Room) -> int:
    """Return a missing stage of a job that is not whole, each as likely, in any way it could be done; -1 for none."""
    at = pick(week.dice, given.n_jobs)
    for k in range(given.n_jobs):
        job = (at + k) % given.n_jobs
        if room.lacked[job] == 0:
            continue
        way = open_way(given, week, job)
        if way < -1:
            continue
        if way >= 0 and not begun(given, week, job):
            week.chosen[job] = way
        row = given.jobs[job]
        many = row.stages[1] - row.stages[0]
        since = pick(week.dice, many)
        for m in range(many):
            stage = given.order[row.stages[0] + (since + m) % many]
            if week.seen[stage].route >= 0 or given.stages[stage].extra != 0:
                continue
            if in_plan(given, week, stage):
                return stage
    return -1


@fast
def _day_from(given: Given, stage: int, since: int) -> int:
    """Return the first day from there on, then from the start, with a window; -1 for none."""
    for k in range(given.n_days):
        day = (since + k) % given.n_days
        row = stage * given.n_days + day
        if given.window_at[row] < given.window_at[row + 1]:
            return day
    return -1


@fast
def _clear_along(given: Given, week: Week, room: Room, job: int) -> None:
    """Make room for each stage of a job in turn, on days that follow each other."""
    day = pick(week.dice, given.n_days)
    row, cleared = given.jobs[job], -1
    for k in range(row.stages[0], row.stages[1]):
        stage = given.order[k]
        if given.stages[stage].extra != 0 or not in_plan(given, week, stage):
            continue
        later = _day_from(given, stage, day)
        if later < day:
            return
        if roll(week.dice) < (AGAIN if later == cleared else CLEARED):
            _clear_some(given, week, room, stage, later, 1)
            cleared = later
        day = later + (roll(week.dice) < 0.4)
        if day >= given.n_days:
            return


@fast
def _clear_some(
    given: Given, week: Week, room: Room, target: int, day: int, many: int
) -> None:
    """Mark what is done in so many van-days of a day that could take the stage."""
    vans = given.n_vans
    for _ in range(many):
        van = pick(week.dice, vans)
        for k in range(vans):
            v = (van + k) % vans
            route = week.routes[day * vans + v]
            if route.lock != 2 and given.fits[target, v] != 0 and route.count > 0:
                mark_day(week, room, day * vans + v)
                break


@fast
def mark_job(given: Given, room: Room, job: int) -> None:
    """Mark every stage of a job."""
    row = given.jobs[job]
    for k in range(row.stages[0], row.stages[1]):
        room.mark[given.order[k]] = 1


@fast
def mark_day(week: Week, room: Room, r: int) -> None:
    """Mark what is done in a van-day and not held there."""
    route = week.routes[r]
    for i in range(route.held, route.count):
        if route.stop[i] >= 0:
            room.mark[route.stop[i]] = 1
