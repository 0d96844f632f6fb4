"""What a week, a van-day and a job's finish cost, in cents."""

from dispatch.planner.core.jit import fast
from dispatch.planner.core.lags import lag_at
from dispatch.planner.core.shapes import (
    BACK,
    DEPART,
    REST,
    Given,
    Ints,
    Room,
    Rows,
    Week,
)

BROKEN = 1e9  # what a pin that is not kept costs


@fast
def van_cents(given: Given, slots: Rows, count: int, van: int) -> float:
    """Return the van's day and its metres."""
    base, metres = given.vans[van].base, 0
    at = base
    for i in range(count):
        origin, to = slots[i].origin, slots[i].site
        metres += given.metres[at, origin]
        if slots[i].stop < 0:
            metres += given.metres[origin, to]
        at = to
    metres += given.metres[at, base]
    return given.vans[van].day_cents + given.vans[van].metre_cents * metres


@fast
def trouble_cents(given: Given, stop: int, day: int, start: int) -> float:
    """Return the risk of that start, and what telling people another time that day costs."""
    stage, total = given.stages[stop], 0.0
    for k in range(stage.risks[0], stage.risks[1]):
        if given.risks[k].start <= start < given.risks[k].end:
            total += given.risks[k].cents
    if stage.told >= 0 and stage.told_day == day:
        beyond = abs(start - stage.told) - given.tolerance
        if beyond > 0:
            total += given.shift_cents + given.shift_minute * beyond
    return total


@fast
def visit_cents(given: Given, stop: int, day: int, start: int) -> float:
    """Return the trouble of a start, less what not keeping the day that was told would cost."""
    total = trouble_cents(given, stop, day, start)
    stage = given.stages[stop]
    if stage.told >= 0 and stage.told_day == day:
        total -= given.day_cents
    return total


@fast
def wages(given: Given, paid: Ints, person: int) -> float:
    """Return a person's wages in the week, by the minutes paid."""
    row = given.people[person]
    return row.rate * (paid + max(0, paid - row.regular) / 2)


@fast
def paid_minutes(given: Given, room: Room) -> int:
    """Return the paid minutes of the timing made last."""
    rest = given.rest if room.out[REST] >= 0 else 0
    return room.out[BACK] - room.out[DEPART] - rest


@fast
def day_cents(
    given: Given,
    week: Week,
    room: Room,
    slots: Rows,
    count: int,
    r: int,
    team: Ints,
    size: int,
) -> float:
    """Return what the week changes by when the van-day becomes what was timed last."""
    vans = given.n_vans
    day, van = r // vans, r % vans
    paid = paid_minutes(given, room)
    total = van_cents(given, slots, count, van)
    for i in range(count):
        if slots[i].stop >= 0:
            total += visit_cents(given, slots[i].stop, day, slots[i].start)
    route = week.routes[r]
    for k in range(size):
        person = team[k]
        was = week.paid[person]
        others = was
        for m in range(route.size):
            if route.team[m] == person:
                others -= route.paid
        total += wages(given, others + paid, person) - wages(given, was, person)
    for m in range(route.size):
        person, stays = route.team[m], False
        for k in range(size):
            stays = stays or team[k] == person
        if not stays:
            was = week.paid[person]
            total += wages(given, was - route.paid, person)
            total -= wages(given, was, person)
    total -= route.other
    return total + finishes(given, week, room, slots, count, r)


@fast
def finish_cents(given: Given, job: int, finish: int) -> float:
    """Return what it costs to finish a job then."""
    row = given.jobs[job]
    late = 0
    if row.promise >= 0:
        late = max(0, finish - row.promise)
    return row.finish * finish + row.late * late


@fast
def finishes(
    given: Given, week: Week, room: Room, slots: Rows, count: int, r: int
) -> float:
    """Return what the finishes of the jobs in a timed van-day change by, so far as placed."""
    total = 0.0
    for i in range(count):
        stop = slots[i].stop
        if stop < 0:
            continue
        job = given.stages[stop].job
        row = given.jobs[job]
        if row.finish == 0 and row.promise < 0:
            continue
        first = True
        for j in range(i):
            other = slots[j].stop
            if other >= 0 and given.stages[other].job == job:
                first = False
                break
        if not first:
            continue
        was, now = 0, 0
        for k in range(row.stages[0], row.stages[1]):
            stage = given.order[k]
            seen, here = week.seen[stage], room.at[stage]
            if seen.route >= 0:
                was = max(was, seen.held)
            if here >= 0:
                end = slots[here].end
                hold = lag_at(given.lags, given.steps, given.stages[stage].hold, end)
                now = max(now, end + max(0, hold))
            elif seen.route >= 0 and seen.route != r:
                now = max(now, seen.held)
        if was != now:
            total += finish_cents(given, job, now) - finish_cents(given, job, was)
    return total


@fast
def in_plan(given: Given, week: Week, stage: int) -> bool:
    """Whether the stage is part of its job as chosen."""
    row = given.stages[stage]
    return row.variant < 0 or week.chosen[row.job] == row.variant


@fast
def is_orphan(given: Given, week: Week, stage: int) -> bool:
    """Whether something the stage follows is in the plan and not placed."""
    row = given.stages[stage]
    for b in range(row.before[0], row.before[1]):
        other = given.before[b].stage
        if week.seen[other].route < 0 and in_plan(given, week, other):
            return True
    return False


@fast
def job_cents(given: Given, week: Week, job: int) -> float:
    """Return what a job's finish and its missing stages cost."""
    row = given.jobs[job]
    finish, total, short = 0, 0.0, False
    for k in range(row.stages[0], row.stages[1]):
        stage = given.order[k]
        if week.seen[stage].route >= 0:
            finish = max(finish, week.seen[stage].held)
        elif in_plan(given, week, stage):
            total += given.stages[stage].drop
            short = short or given.stages[stage].extra == 0
    if short:
        total += row.unfinished
        finish = max(finish, given.end)
    return total + finish_cents(given, job, finish)


@fast
def total_cents(given: Given, week: Week) -> float:
    """Return the whole week's cost."""
    total = given.day_cents * given.told
    for person in range(week.n_people):
        total += wages(given, week.paid[person], person)
    for r in range(week.n_routes):
        if week.routes[r].lock > 0 or week.routes[r].count > 0:
            total += week.routes[r].other
    for job in range(week.n_jobs):
        total += job_cents(given, week, job)
    return total + broken_cents(given, week)


@fast
def broken_cents(given: Given, week: Week) -> float:
    """Return what makes any sound week cheaper than one that does not keep its pins, or what they follow."""
    total = 0.0
    if given.pins == 0:
        return total
    for stage in range(week.n_stages):
        if week.seen[stage].route >= 0:
            total += BROKEN * is_orphan(given, week, stage)
        elif given.stages[stage].pin >= 0:
            total += BROKEN
    return total


@fast
def whole(given: Given, week: Week, job: int) -> bool:
    """Whether every stage the job needs as chosen is placed."""
    row = given.jobs[job]
    for k in range(row.stages[0], row.stages[1]):
        stage = given.order[k]
        if given.stages[stage].extra == 0 and week.seen[stage].route < 0:
            if in_plan(given, week, stage):
                return False
    return True
