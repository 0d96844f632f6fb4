"""Puts whole jobs into the week: every stage, in the variant that costs least."""

import math

from dispatch.planner.core.change import copy_week, removable
from dispatch.planner.core.delay import delay, hurry
from dispatch.planner.core.dice import pick, roll
from dispatch.planner.core.idle import all_idle_cents
from dispatch.planner.core.jit import fast
from dispatch.planner.core.price import in_plan, is_orphan, total_cents, whole
from dispatch.planner.core.roots import begun, is_open, is_tight, root_of, waits
from dispatch.planner.core.serve import NOWHERE, insert, tow_ahead
from dispatch.planner.core.shapes import DARING, ONLY, STOPS, Given, Room, Week
from dispatch.planner.core.take_out import take_out

EAGER = 0.4
FORWARD = 0.4  # how often a job is first tried from its first stage on
ROOTS = 6  # how often a job is tried, from which stages, to tell what it would cost
DELAYS = (
    0.3  # how often the van-day of such a stage waits a while for what must come before
)
AHEAD = 0.2  # how often a trailer is first brought on a trip of its own


@fast
def block_of(given: Given, week: Week, room: Room, stage: int) -> int:
    """Write the missing stages that must share the stage's van-day; return how many."""
    row, many = given.stages[stage], 0
    job = given.jobs[row.job]
    for k in range(job.stages[0], job.stages[1]):
        other = given.order[k]
        if given.stages[other].block != row.block or week.seen[other].route >= 0:
            continue
        if given.stages[other].extra != row.extra or many >= STOPS // 2:
            continue
        if in_plan(given, week, other):
            room.block[many] = other
            many += 1
    return many


@fast
def _turns(given: Given, job: int) -> int:
    """Return how often to try to fill a job: with and without haste, and on two days if its stages are tight."""
    row = given.jobs[job]
    for k in range(row.stages[0], row.stages[1]):
        if is_tight(given, given.order[k]):
            return 4
    return 2


@fast
def _place(given: Given, week: Week, room: Room, stage: int, eager: float) -> bool:
    """Put a stage's block in, its trailer brought by the van that does it or, now and then first, by any."""
    towed = given.stages[stage].stays[0] < given.stages[stage].stays[1]
    ahead = towed and roll(week.dice) < AHEAD
    only = room.out[ONLY]
    if ahead:
        room.out[ONLY] = 0
        tow_ahead(given, week, room, stage, EAGER)
        room.out[ONLY] = only
    many = block_of(given, week, room, stage)
    if insert(given, week, room, many, eager, NOWHERE):
        return True
    if ahead or not towed:
        return False
    room.out[ONLY] = 0
    brought = tow_ahead(given, week, room, stage, EAGER)
    room.out[ONLY] = only
    if not brought:
        return False
    many = block_of(given, week, room, stage)
    return insert(given, week, room, many, eager, NOWHERE)


@fast
def _fill(
    given: Given, week: Week, room: Room, job: int, eager: float, day: int, root: int
) -> bool:
    """Put in every missing stage the job needs; False at the first with no place.

    The stage at `root` of the order goes first, then those before it, the last first, then those after it.
    Stages that must not lie far apart go on the given day; -1 for any.
    """
    row, kept = given.jobs[job], room.delayed[0]
    for turn in range(row.stages[0], row.stages[1]):
        k = turn if turn > root else row.stages[0] + root - turn
        stage = given.order[k]
        if given.stages[stage].extra != 0 or week.seen[stage].route >= 0:
            continue
        if not in_plan(given, week, stage):
            continue
        if waits(given, week, stage, job if k <= root else -1):
            room.delayed[0] = kept
            return False
        if day >= 0 and is_tight(given, stage):
            room.out[ONLY] = day + 1
        placed = _place(given, week, room, stage, eager)
        room.out[ONLY] = 0
        if not placed:
            room.delayed[0] = kept
            return False
        if k == root > row.stages[0] and roll(week.dice) < DELAYS:
            delay(given, week, room, week.seen[stage].route)
    hurry(given, week, room, kept)
    return True


@fast
def _spare(given: Given, week: Week, room: Room, job: int, extras: bool) -> None:
    """Put in what the job can do without, where it costs less than leaving it out."""
    row = given.jobs[job]
    for k in range(row.stages[0], row.stages[1]):
        stage = given.order[k]
        if week.seen[stage].route >= 0 or not in_plan(given, week, stage):
            continue
        if extras and given.stages[stage].extra == 0:
            continue
        if waits(given, week, stage, -1):
            continue
        many, worth = block_of(given, week, room, stage), 0.0
        for i in range(many):
            worth += given.stages[room.block[i]].drop
        if room.out[DARING] == 1:
            worth = NOWHERE
        insert(given, week, room, many, 0.0, worth)


@fast
def add_job(
    given: Given,
    week: Week,
    room: Room,
    before: Week,
    best: Week,
    job: int,
) -> None:
    """Add the job's missing stages if that lowers the week's cost, or anyway where daring; two weeks are scratch."""
    copy_week(before, week)
    cents = total_cents(given, week)
    idle = all_idle_cents(given, week)
    if room.out[DARING] == 1:
        cents = NOWHERE
    variants = given.jobs[job].variants
    fixed = variants == 0 or begun(given, week, job)
    found = False
    for v in range(1 if fixed else variants):
        way = week.chosen[job] if fixed else v
        if not is_open(given, week, job, way if variants > 0 else -1):
            continue
        for turn in range(_turns(given, job)):
            if turn > 0 or v > 0:
                copy_week(week, before)
            if not fixed:
                week.chosen[job] = v
            hasty = turn == 1 and roll(week.dice) < 0.5
            eager = EAGER * 10 if hasty else EAGER * (roll(week.dice) < 0.3)
            day = pick(week.dice, given.n_days) if turn > 1 else -1
            root = given.jobs[job].stages[0]
            if turn > 0 or roll(week.dice) > FORWARD:
                root = root_of(given, week, job)
            if not _fill(given, week, room, job, eager, day, root):
                continue
            _spare(given, week, room, job, True)
            now = total_cents(given, week)
            now -= room.patience * max(0.0, all_idle_cents(given, week) - idle)
            if now < cents:
                cents, found = now, True
                copy_week(best, week)
            break
    if found:
        copy_week(week, best)
        return
    copy_week(week, before)
    if whole(given, week, job):
        _spare(given, week, room, job, True)
    else:
        _spare(given, week, room, job, False)


@fast
def shed(given: Given, week: Week, room: Room, before: Week, job: int) -> None:
    """Take out what is placed of a job that will not be finished, where that is cheaper."""
    if whole(given, week, job):
        return
    row, any_placed = given.jobs[job], False
    for k in range(row.stages[0], row.stages[1]):
        if week.seen[given.order[k]].route >= 0:
            room.mark[given.order[k]] = 1
            any_placed = True
    if not any_placed:
        return
    cents = total_cents(given, week)
    copy_week(before, week)
    take_out(given, week, room)
    if total_cents(given, week) > cents:
        copy_week(week, before)


@fast
def close(given: Given, week: Week, room: Room) -> None:
    """Take out what follows something unplaced, until all is in order."""
    for _ in range(week.n_stages + 1):
        lost = False
        for stage in range(week.n_stages):
            if removable(given, week, stage) and is_orphan(given, week, stage):
                room.mark[stage] = 1
                lost = True
        if not lost:
            return
        take_out(given, week, room)


@fast
def put_pinned(given: Given, week: Week, room: Room, many: int, ahead: bool) -> bool:
    """Put the pinned stages of `room.block`, all of one van-day, where they are pinned; False when they cannot be.

    With `ahead` the trailers they need are brought on trips of their own first.
    """
    for i in range(many):
        row = given.stages[room.block[i]]
        if row.variant >= 0:
            week.chosen[row.job] = row.variant
    for i in range(many if ahead else 0):
        row = given.stages[room.block[i]]
        if row.stays[0] < row.stays[1]:
            tow_ahead(given, week, room, room.block[i], 0.0)
    return insert(given, week, room, many, 0.0, NOWHERE)


@fast
def added_by_job(given: Given, week: Week, room: Room, before: Week, job: int) -> float:
    """Return the cents that finishing a job adds, NaN where no room is found; the week stays."""
    cents, added = total_cents(given, week), math.nan
    copy_week(before, week)
    turns = ROOTS + given.n_days if _turns(given, job) > 2 else ROOTS
    for turn in range(turns):
        root = given.jobs[job].stages[0] if turn < 2 else root_of(given, week, job)
        eager = EAGER * 10 * (turn == 1)
        if _fill(given, week, room, job, eager, turn - ROOTS, root):
            added = total_cents(given, week) - cents
            copy_week(week, before)
            break
        copy_week(week, before)
    return added


@fast
def added_by_stage(
    given: Given, week: Week, room: Room, before: Week, stage: int
) -> float:
    """Return the cents that placing one stage (and those of its van-day) adds, NaN without room."""
    cents, added = total_cents(given, week), math.nan
    copy_week(before, week)
    if not waits(given, week, stage, -1):
        many = block_of(given, week, room, stage)
        if insert(given, week, room, many, 0.0, NOWHERE):
            added = total_cents(given, week) - cents
    copy_week(week, before)
    return added
