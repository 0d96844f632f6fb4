"""Ruin and recreate with annealing: takes part of a week apart and puts it together again."""

import math

from dispatch.planner.core.change import copy_week
from dispatch.planner.core.days import lay_turned
from dispatch.planner.core.delay import ease, hurry, make_way
from dispatch.planner.core.dice import pick, roll
from dispatch.planner.core.exchange import exchange
from dispatch.planner.core.jit import fast
from dispatch.planner.core.jobs import add_job, close, shed
from dispatch.planner.core.lags import move_code
from dispatch.planner.core.price import in_plan, total_cents
from dispatch.planner.core.retune import retune
from dispatch.planner.core.roots import is_hopeless, starts
from dispatch.planner.core.ruin import choose
from dispatch.planner.core.shapes import DARING, TURNED, Given, Room, Score, Week
from dispatch.planner.core.take_out import take_out

TUNED = 4  # van-days whose team is tried anew after each step
SWAPPED = 0.3  # how often people are swapped with another van-day too
DARES = 0.05  # how often jobs go in that may pay only together
NOISY = (
    0.4  # how often not the cheapest place is taken, but one that luck makes look so
)
NOISE = 0.5  # by how much of its price at most
PATIENT = 0.3  # how often waiting that later jobs may fill is counted in part only
DELAYS = 0.5  # how often what follows the stages taken out waits a while
EASES = 0.2  # how often what follows a van-day waits when its team is tried anew
OTHERS = 1  # the most jobs left out before that one step tries again


@fast
def walk(
    given: Given,
    now: Week,
    best: Week,
    twin: Week,
    before: Week,
    found: Week,
    room: Room,
    score: Score,
    steps: int,
    heat: float,
) -> int:
    """Take so many steps at a heat (cents), fewer when `score` says halt; return how many."""
    for step in range(steps):
        if score.halt != 0.0:
            return step
        copy_week(twin, now)
        _step(given, twin, now, before, found, room)
        if _sound(twin):
            cents = total_cents(given, twin)
            edge = -heat * math.log(max(1e-12, roll(twin.dice)))
            if cents < score.now + edge:
                copy_week(now, twin)
                score.now = cents
            if cents < score.least - 1e-6:
                copy_week(best, twin)
                score.least = cents
    return steps


@fast
def _step(
    given: Given, week: Week, now: Week, before: Week, found: Week, room: Room
) -> None:
    for job in range(given.n_jobs):
        room.lacked[job] = _lacks(given, week, job)
    first = choose(given, week, room)
    take_out(given, week, room)
    turned = room.out[TURNED] > 0
    early = roll(week.dice) < 0.5
    if turned:
        lay_turned(given, week, room)
    elif early:
        close(given, week, room)
    elif roll(week.dice) < DELAYS:
        make_way(given, week, now, room)
    room.out[DARING] = roll(week.dice) < DARES
    if roll(week.dice) < NOISY:
        room.noise = NOISE * roll(week.dice)
    if roll(week.dice) < PATIENT:
        room.patience = roll(week.dice)
    fill_up(given, week, before, found, room, first)
    hurry(given, week, room, 0)
    room.out[DARING], room.noise, room.patience = 0, 0.0, 0.0
    _tune(given, week, now, before, room)


@fast
def _tune(given: Given, week: Week, now: Week, before: Week, room: Room) -> None:
    """Try the team anew of a few van-days that the step changed, and people swapped between two."""
    at, tuned = pick(week.dice, week.n_routes), 0
    for k in range(week.n_routes):
        r = (at + k) % week.n_routes
        if week.version[r] == now.version[r]:
            continue
        if week.routes[r].count > 0 and week.routes[r].lock == 0:
            if roll(week.dice) < EASES:
                ease(given, week, room, r)
            retune(given, week, room, r)
            if roll(week.dice) < SWAPPED:
                exchange(given, week, before, room, r)
            hurry(given, week, room, 0)
            tuned += 1
            if tuned >= TUNED:
                return


@fast
def fill_up(
    given: Given, week: Week, before: Week, found: Week, room: Room, first: int
) -> None:
    """Put missing jobs in, the given one first; shed what then is worth nothing."""
    many = _missing(given, week, room, first)
    patience = room.patience
    for k in range(many):
        # What waits for nothing more is waiting that is paid.
        room.patience = patience if k < many - 1 else 0.0
        add_job(given, week, room, before, found, room.jobs[k])
    close(given, week, room)
    for k in range(many):
        shed(given, week, room, before, room.jobs[k])


@fast
def _missing(given: Given, week: Week, room: Room, first: int) -> int:
    """Write the jobs with a stage missing in the order to try them; return how many."""
    many, others, jobs = 0, 0, week.n_jobs
    kind = roll(week.dice)
    at = pick(week.dice, jobs)
    for k in range(jobs):
        job = (at + k) % jobs
        if job == first or not _lacks(given, week, job):
            continue
        if room.lacked[job] != 0:
            if is_hopeless(given, week, job):
                continue
            others += 1
            if others > OTHERS:
                continue
        room.jobs[many] = job
        many += 1
    for k in range(many):
        room.list[k] = int(_worth(given, week, room.jobs[k], kind) * 1000)
    for k in range(1, many):
        job, key, m = room.jobs[k], room.list[k], k
        while m > 0 and room.list[m - 1] > key:
            room.jobs[m], room.list[m] = room.jobs[m - 1], room.list[m - 1]
            m -= 1
        room.jobs[m], room.list[m] = job, key
    if first >= 0:
        for k in range(many, 0, -1):
            room.jobs[k] = room.jobs[k - 1]
        room.jobs[0] = first
        many += 1
    return many


@fast
def _worth(given: Given, week: Week, job: int, kind: float) -> float:
    """Return the key a missing job is sorted by: random, dearest first, or fewest starts first."""
    luck = roll(week.dice)
    row = given.jobs[job]
    if kind < 0.4:
        return luck
    if kind < 0.7:
        return -row.unfinished * (0.5 + luck / 2)
    return _room(given, week, job) * (0.5 + luck / 2)


@fast
def _room(given: Given, week: Week, job: int) -> float:
    """Return the minutes of starts that the tightest stage of a job has."""
    row, least = given.jobs[job], 1e9
    for k in range(row.stages[0], row.stages[1]):
        stage = given.order[k]
        if not in_plan(given, week, stage):
            continue
        least = min(least, starts(given, stage))
    return least


@fast
def _lacks(given: Given, week: Week, job: int) -> bool:
    row = given.jobs[job]
    for k in range(row.stages[0], row.stages[1]):
        stage = given.order[k]
        if week.seen[stage].route < 0 and in_plan(given, week, stage):
            return True
    return False


@fast
def _sound(week: Week) -> bool:
    """Whether every move of a chain stands in the van-day it names."""
    for trailer in range(week.n_trailers):
        chain = week.chains[trailer]
        number = chain.next[0]
        while number >= 0:
            r, there = chain.route[number], False
            if r < 0:
                return False
            code = move_code(trailer, number)
            for i in range(week.routes[r].count):
                there = there or week.routes[r].stop[i] == code
            if not there:
                return False
            number = chain.next[number]
    return True
