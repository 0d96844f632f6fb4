"""The week the search starts from: what is fixed, pins, an earlier plan, then every job."""

from collections.abc import Mapping, Sequence

from dispatch.planner.plan import VanDay, read_van_day
from dispatch.planner.solve.adopt import adopt
from dispatch.planner.solve.facts import Facts
from dispatch.planner.solve.frozen import fresh
from dispatch.planner.solve.insert import Inserter, Taste
from dispatch.planner.solve.money import total_cents
from dispatch.planner.solve.remove import close
from dispatch.planner.solve.state import State
from dispatch.planner.solve.timing import best_route, is_open
from dispatch.planner.solve.walk import missing_jobs, recreate


def starting_weeks(
    inserter: Inserter, van_days: Sequence[VanDay], chosen: Mapping[str, str]
) -> list[State]:
    """Return weeks to start from, the cheapest first; each keeps what is frozen and pinned."""
    facts = inserter.facts
    weeks = [_filled(inserter, empty(facts, inserter))]
    told = _told(facts)
    for hint, ways in ((told, chosen), (van_days, chosen)):
        if hint:
            week = empty(facts, inserter)
            adopt(week, hint, _ways(facts, hint, ways), inserter.teams)
            weeks.append(_filled(inserter, week))
    return sorted(weeks, key=total_cents)


def empty(facts: Facts, inserter: Inserter) -> State:
    """Return the week with the frozen van-days and the pinned stages only."""
    state = fresh(facts)
    for key in sorted(facts.open):
        route = state.routes.get(key)
        if route is not None and route.stops:
            found = best_route(state, key, route.team, route.stops)
            if found is not None:
                state.put(found[1])
    _pins(inserter, state)
    return state


def _pins(inserter: Inserter, state: State) -> None:
    """Put every pinned stage of the plan where it is pinned, in order of time."""
    facts = state.facts
    pinned = [(s.pinned.start, i) for i, s in enumerate(facts.stages) if s.pinned]
    for _, stage in sorted(pinned):
        variant = facts.stages[stage].variant
        if variant is not None:
            state.chosen[facts.job_of[stage]] = variant
        if stage not in state.seen:
            inserter.insert(state, (stage,), Taste(tight=False))


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


def _filled(inserter: Inserter, state: State) -> State:
    """Add every job, the dearest to leave first."""
    facts = state.facts
    jobs = sorted(missing_jobs(state), key=lambda j: -facts.jobs[j].unfinished_cents)
    full = recreate(inserter, state.copy(), jobs, Taste())
    close(full)
    return full


def keeps_open(state: State) -> bool:
    """Whether every van-day under way is still there."""
    return all(key in state.routes for key in state.facts.open if is_open(state, key))
