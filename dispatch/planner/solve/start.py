"""The weeks a search starts from: what is fixed, then an earlier plan, then every job."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from dispatch.planner.core.jobs import put_pinned
from dispatch.planner.core.shapes import Given, Week, new_room
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
    """Put in what is pinned and not there yet, in order of time."""
    stages = given["stages"][: int(given["n_stages"])]
    pins = sorted((int(row["pin"]), i) for i, row in enumerate(stages))
    room = new_room()
    for at, stage in pins:
        if at >= 0 and week["seen"][stage]["route"] < 0:
            put_pinned(given, week, room, stage)
    return week


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
