"""The weeks a search starts from: what is fixed, then an earlier plan, then every job."""

import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from dispatch.planner.core.calls import put_pinned
from dispatch.planner.core.room import new_room
from dispatch.planner.core.shapes import ONLY, Given, Week
from dispatch.planner.plan import VanDay, read_van_day
from dispatch.planner.solve.adopt import adopt
from dispatch.planner.solve.facts import Facts
from dispatch.planner.solve.flatten import flatten
from dispatch.planner.solve.frozen import fresh
from dispatch.planner.solve.state import State
from dispatch.planner.solve.teams import Teams
from dispatch.planner.solve.timing import best_route
from dispatch.planner.solve.walker import Walker


@dataclass(frozen=True, kw_only=True, slots=True)
class Start:
    """An earlier plan to start from; binds nothing."""

    van_days: Sequence[VanDay] = ()
    chosen: Mapping[str, str] = field(default_factory=dict)


def starting_weeks(facts: Facts, given: Given, start: Start, seed: int) -> list[Week]:
    """Return weeks to start from, the cheapest first, and last the one with nothing but what is fixed."""
    bare = _pinned(given, flatten(_fixed(facts), given, seed))
    weeks = [*_adopted(facts, given, start, seed), bare]
    walkers = [Walker(given, week, seed) for week in weeks]
    for walker in walkers:
        walker.fill()
    walkers.sort(key=lambda walker: walker.now_cents)
    return [*(walker.best for walker in walkers), bare]


def _adopted(facts: Facts, given: Given, start: Start, seed: int) -> Iterator[Week]:
    """Yield the weeks that keep of what was told, or of a plan handed in, all that still may be."""
    for hint in (_told(facts), start.van_days):
        if hint:
            state = _fixed(facts)
            adopt(state, hint, _ways(facts, hint, start.chosen), Teams(facts))
            yield _pinned(given, flatten(state, given, seed))


def _fixed(facts: Facts) -> State:
    """Return the week with the frozen van-days only, those under way timed to their end."""
    state = fresh(facts)
    for key in sorted(facts.open):
        route = state.routes.get(key)
        if route is not None and route.stops:
            found = best_route(state, key, route.team, route.stops)
            if found is not None:
                state.put(found[1])
    return state


def _pinned(given: Given, week: Week) -> Week:
    """Put in what is pinned and not there yet, a van-day's pins together.

    Where those of a van-day no longer go in beside the others', theirs go first and all begin anew.
    """
    groups = _groups(given, week)
    found = week
    for _ in range(len(groups) + 1):
        found, late = week.copy(), -1
        for i, group in enumerate(groups):
            found, done = _together(given, found, group)
            late = i if late < 0 and not done else late
        if late < 0:
            break
        groups.insert(0, groups.pop(late))
    return found


def shuffled(facts: Facts, given: Given, seed: int) -> Week:
    """Return the fixed week with its pins put in in another order, what a pinned stage follows before it.

    What goes in first has the choice of trailers, teams and hours.
    """
    dice = random.Random(seed)  # noqa: S311 - an order to try
    week = flatten(_fixed(facts), given, seed)
    groups = _groups(given, week)
    dice.shuffle(groups)
    for group in groups:
        last = _day(given, given["stages"][group[0]])
        for stage in _followed(facts, week, group):
            days = dice.sample(range(last + 1), last + 1)
            any(_put_on(given, week, stage, day) for day in days)
        week, _ = _together(given, week, group)
    return week


def _followed(facts: Facts, week: Week, stages: Sequence[int]) -> list[int]:
    """Return what some stages follow, all the way back and the first first, as far as it has no visit."""
    found: list[int] = []
    for stage in stages:
        before = [other for other, *_ in facts.preds[stage]]
        for other in (*_followed(facts, week, before), *before):
            if week["seen"][other]["route"] < 0 and other not in found:
                found.append(other)
    return found


def _put_on(given: Given, week: Week, stage: int, day: int) -> bool:
    """Put a stage in on a day, and what shares its van-day; say whether it went."""
    rows = given["stages"]
    same = (rows["job"] == rows[stage]["job"]) & (rows["block"] == rows[stage]["block"])
    part = np.flatnonzero(same & (week["seen"]["route"] < 0))
    part = part[part < int(given["n_stages"])]
    room = new_room()
    room["out"][ONLY] = day + 1
    room["block"][: len(part)] = part
    return len(part) == 0 or bool(put_pinned(given, week, room, len(part), False))  # noqa: FBT003 - compiled


def _groups(given: Given, week: Week) -> list[list[int]]:
    """Return the pinned stages that are not placed yet, those of each van-day in order of time."""
    stages = given["stages"][: int(given["n_stages"])]
    pinned = [int(s) for s in np.flatnonzero(stages["pin"] >= 0)]
    groups: dict[tuple[int, int], list[int]] = {}
    for stage in sorted(pinned, key=lambda s: int(stages[s]["pin"])):
        if week["seen"][stage]["route"] < 0:
            van = int(np.flatnonzero(given["fits"][stage])[:1].sum())
            groups.setdefault((_day(given, stages[stage]), van), []).append(stage)
    return list(groups.values())


def _day(given: Given, row: np.void) -> int:
    opens = given["days"]["opens"][: int(given["n_days"])]
    return int(np.searchsorted(opens, row["pin"], side="right")) - 1


def _together(given: Given, week: Week, group: list[int]) -> tuple[Week, bool]:
    """Return the week with a van-day's pins, as many as there is a way to put, and whether that is all.

    They go in at once, else job by job, else one by one.
    """
    jobs = given["stages"]["job"]
    parts = [[s for s in group if jobs[s] == job] for job in dict.fromkeys(jobs[group])]
    singles = [[s] for s in group]
    tried = week
    for way in ([group], parts, singles):
        for ahead in (False, True):
            tried = week.copy()
            done = [_put(given, tried, part, ahead=ahead) for part in way]
            if all(done):
                return tried, True
    return tried, False


def _put(given: Given, week: Week, part: list[int], *, ahead: bool) -> bool:
    room = new_room()
    room["block"][: len(part)] = part
    return bool(put_pinned(given, week, room, len(part), ahead))


def _told(facts: Facts) -> list[VanDay]:
    standing = facts.problem.standing
    return [read_van_day(row) for row in standing.van_days] if standing else []


def _ways(
    facts: Facts, van_days: Sequence[VanDay], chosen: Mapping[str, str]
) -> dict[str, str]:
    """Return the variants the van-days themselves show, over those stated."""
    ways = dict(chosen)
    stages = facts.problem.stages
    for vd in van_days:
        for stop in vd.stops:
            stage = stages.get(getattr(stop, "stage", ""))
            if stage is not None and stage.variant is not None:
                ways[stage.job] = stage.variant
    return ways
