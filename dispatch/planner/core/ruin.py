"""Chooses what to take out of a week: jobs, neighbours, van-days, part of a day, room for one more."""

from dispatch.planner.core.change import removable
from dispatch.planner.core.days import turn_days
from dispatch.planner.core.dice import pick, roll
from dispatch.planner.core.jit import fast
from dispatch.planner.core.shapes import FAR, Given, Room, Week
from dispatch.planner.core.target import clear_for, left_out, mark_day, mark_job

UPHEAVAL = 0.02  # how often a good part of all is taken out
TURNS = 0.03  # how often outings of a van change days
MANY = 12  # about so many jobs at most
NEAR = 16  # the most neighbours taken out at once
WHOLE = 0.7  # how often the whole jobs go that a trailer serves


@fast
def choose(given: Given, week: Week, room: Room) -> int:
    """Mark the stages to take out; return the job to put in first, -1 for none."""
    kind, first = roll(week.dice), -1
    if kind < UPHEAVAL:
        _many_jobs(given, week, room)
    elif kind < 0.25:
        _some_jobs(given, week, room)
    elif kind < 0.40:
        _near(given, week, room, 1 + pick(week.dice, NEAR))
    elif kind < 0.47:
        _van_days(given, week, room, 1 + pick(week.dice, 2))
    elif kind < 0.55:
        _slice(given, week, room)
    elif kind < 0.55 + TURNS and given.n_days > 1:
        stage = _a_placed(given, week)
        if stage >= 0:
            turn_days(given, week, room, stage)
            return first
    elif kind < 0.90:
        target = left_out(given, week, room)
        if target < 0:
            _near(given, week, room, 1 + pick(week.dice, NEAR))
        else:
            first = clear_for(given, week, room, target)
    elif kind < 0.94:
        _trailer(given, week, room)
    else:
        _single(given, week, room, 1 + pick(week.dice, 3))
    _blocks(given, room)
    if roll(week.dice) < 0.5:
        _followers(given, room)
    return first


@fast
def _a_placed(given: Given, week: Week) -> int:
    """Return a random placed stage that may be taken out, -1 for none."""
    stages = week.n_stages
    at = pick(week.dice, stages)
    for k in range(stages):
        stage = (at + k) % stages
        if removable(given, week, stage):
            return stage
    return -1


@fast
def _some_jobs(given: Given, week: Week, room: Room) -> None:
    for _ in range(1 + pick(week.dice, 3)):
        stage = _a_placed(given, week)
        if stage >= 0:
            mark_job(given, room, given.stages[stage].job)


@fast
def _many_jobs(given: Given, week: Week, room: Room) -> None:
    """Mark a good part of all jobs, but no more than a long step would bear."""
    share = 0.2 + 0.4 * roll(week.dice)
    share = min(share, MANY / max(1, given.n_jobs))
    for job in range(given.n_jobs):
        if roll(week.dice) < share:
            mark_job(given, room, job)


@fast
def _single(given: Given, week: Week, room: Room, many: int) -> None:
    for _ in range(many):
        stage = _a_placed(given, week)
        if stage >= 0:
            room.mark[stage] = 1


@fast
def _near(given: Given, week: Week, room: Room, many: int) -> None:
    """Mark a stage and those nearest to it in time and place, somewhat blurred."""
    seed = _a_placed(given, week)
    if seed < 0:
        return
    room.mark[seed] = 1
    _nearest(given, week, room, seed, many, -1)


@fast
def _nearest(
    given: Given, week: Week, room: Room, seed: int, many: int, day: int
) -> None:
    """Mark so many placed stages nearest to the seed's place, and time unless a day is given."""
    vans = given.n_vans
    found, far = 0, FAR
    for stage in range(week.n_stages):
        r = week.seen[stage].route
        if r < 0 or stage == seed or room.mark[stage] == 1:
            continue
        if day >= 0 and r // vans != day:
            continue
        apart = given.drive[given.stages[seed].place, given.stages[stage].place]
        apart += pick(week.dice, 30)
        if day < 0:
            apart += abs(week.seen[stage].start - week.seen[seed].start) // 20
        if found < many:
            room.list[found] = stage
            room.at[stage] = apart
            found += 1
            far = _farthest(room, found)
        elif apart < room.at[room.list[far]]:
            room.at[room.list[far]] = -1
            room.list[far] = stage
            room.at[stage] = apart
            far = _farthest(room, found)
    for k in range(found):
        room.at[room.list[k]] = -1
        room.mark[room.list[k]] = 1


@fast
def _farthest(room: Room, found: int) -> int:
    far = 0
    for k in range(1, found):
        if room.at[room.list[k]] > room.at[room.list[far]]:
            far = k
    return far


@fast
def _van_days(given: Given, week: Week, room: Room, many: int) -> None:
    for _ in range(many):
        stage = _a_placed(given, week)
        if stage >= 0:
            mark_day(week, room, week.seen[stage].route)


@fast
def _slice(given: Given, week: Week, room: Room) -> None:
    """Mark what is done in some hours of one day, near one place where much is."""
    seed = _a_placed(given, week)
    if seed < 0:
        return
    room.mark[seed] = 1
    day = week.seen[seed].route // given.n_vans
    _nearest(given, week, room, seed, 4 + pick(week.dice, 8), day)
    since = week.seen[seed].start - pick(week.dice, 240)
    until = week.seen[seed].end + pick(week.dice, 240)
    for stage in range(week.n_stages):
        if room.mark[stage] == 1 and stage != seed:
            seen = week.seen[stage]
            if seen.end <= since or seen.start >= until:
                room.mark[stage] = 0


@fast
def _trailer(given: Given, week: Week, room: Room) -> None:
    """Mark what a trailer serves from one of its stands on, or those jobs as a whole: its ways may then be in another order."""
    trailer = pick(week.dice, week.n_trailers)
    if week.n_trailers == 0 or week.chains[trailer].count < 2:
        _near(given, week, room, 1 + pick(week.dice, NEAR))
        return
    chain = week.chains[trailer]
    since = 1 + pick(week.dice, chain.rank[chain.last])
    whole = roll(week.dice) < WHOLE
    for g in range(chain.many):
        guest = chain.guests[g]
        seen = week.seen[guest]
        for k in range(seen.stands):
            if seen.trailer[k] == trailer and chain.rank[seen.number[k]] >= since:
                room.mark[guest] = 1
                if whole:
                    mark_job(given, room, given.stages[guest].job)


@fast
def _blocks(given: Given, room: Room) -> None:
    """Mark with a stage those that share its van-day."""
    for stage in range(given.n_stages):
        if room.mark[stage] == 0:
            continue
        row = given.stages[stage]
        job = given.jobs[row.job]
        for k in range(job.stages[0], job.stages[1]):
            if given.stages[given.order[k]].block == row.block:
                room.mark[given.order[k]] = 1


@fast
def _followers(given: Given, room: Room) -> None:
    """Mark with a stage what follows it."""
    for stage in range(given.n_stages):
        if room.mark[stage] == 0:
            continue
        row = given.stages[stage]
        for b in range(row.then[0], row.then[1]):
            room.mark[given.then[b].stage] = 1
