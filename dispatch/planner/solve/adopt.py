"""Starts from an earlier plan: keeps of it what this week still allows."""

from collections.abc import Iterable, Mapping

from dispatch.planner.plan import Tow, VanDay
from dispatch.planner.solve.facts import mask
from dispatch.planner.solve.remove import close
from dispatch.planner.solve.state import Key, Move, Route, State, Stop
from dispatch.planner.solve.teams import Teams
from dispatch.planner.solve.timing import best_route, is_open

Stands = dict[int, tuple[tuple[int, int], ...]]


def adopt(
    state: State, van_days: Iterable[VanDay], chosen: Mapping[str, str], teams: Teams
) -> None:
    """Lay the van-days into the week, in order of time, each as far as it is allowed.

    Each keeps the hours it had where it may: its waits leave room for what is laid after it.
    """
    facts = state.facts
    begun = {facts.job_of[s] for s in state.seen if facts.stages[s].variant}
    for job, way in enumerate(facts.jobs):
        if way.variants and job not in begun and chosen.get(way.id) in way.variants:
            state.chosen[job] = chosen[way.id]
    for vd in sorted(van_days, key=lambda v: (v.day, v.depart)):
        key = (facts.van_number[vd.van], vd.day)
        old = state.routes.get(key)
        if old is None or is_open(state, key):
            _lay(state, key, vd, teams)
    close(state)


def _lay(state: State, key: Key, vd: VanDay, teams: Teams) -> None:
    facts, old = state.facts, state.routes.get(key)
    team = old.team if old else tuple(sorted(facts.person_number[m] for m in vd.team))
    on_duty = mask(team) & ~teams.on_duty[key[1]]
    if not old and (on_duty or mask(team) & state.busy[key[1]]):
        return
    held = old.stops if old else ()
    since, stands = _stops(state, vd, held)
    fit = _fitting(state, team, tuple(since), teams)
    since.update(
        zip(held, (start for start, _ in old.times) if old else (), strict=False)
    )
    while fit:
        state.served.update(stands)
        found = _checked(state, key, team, (*held, *fit), since)
        if found is not None:
            state.put(found)
            break
        fit = _shorter(fit)
    for stage in stands:
        if stage not in state.seen:
            state.served.pop(stage, None)


def _checked(
    state: State,
    key: Key,
    team: tuple[int, ...],
    stops: tuple[Stop, ...],
    since: Mapping[Stop, int],
) -> Route | None:
    van, load = state.facts.vans[key[0]], dict[str, int]()
    for stop in stops:
        if isinstance(stop, Move):
            if state.facts.trailers[stop.trailer].towed and not van.tows:
                return None
            continue
        stage = state.facts.stages[stop]
        if not stage.gear <= van.gear:
            return None
        for supply, amount in stage.supplies.items():
            load[supply] = load.get(supply, 0) + amount
    if len(team) > van.seats or any(van.carries.get(k, 0) < a for k, a in load.items()):
        return None
    as_told = best_route(state, key, team, stops, tuple(since[s] for s in stops))
    found = as_told or best_route(state, key, team, stops)
    return found[1] if found else None


def _fitting(
    state: State, team: tuple[int, ...], stops: tuple[Stop, ...], teams: Teams
) -> tuple[Stop, ...]:
    """Keep the stops the team may do; a team that may not ride at all keeps none."""
    who = mask(team)
    if not teams.allowed(who, ()):
        return ()
    seats = len(state.facts.minutes[0]) - 1 if state.facts.minutes else 0
    if len(team) > seats:
        return ()
    return tuple(
        s for s in stops if isinstance(s, Move) or teams.able(who, len(team), s)
    )


def _shorter(stops: tuple[Stop, ...]) -> tuple[Stop, ...]:
    """Leave the last visit out, and any tow that then leads nowhere."""
    cut = stops[:-1]
    while cut and isinstance(cut[-1], Move):
        cut = cut[:-1]
    return cut


def _stops(
    state: State, vd: VanDay, held: tuple[Stop, ...]
) -> tuple[dict[Stop, int], Stands]:
    """Return the new stops of a van-day with their starts, its tows numbered on, and the stands they use."""
    facts, chains = state.facts, list(state.chain)
    place = {name: i for i, name in enumerate(facts.problem.places)}
    since: dict[Stop, int] = {}
    stands: Stands = {}
    for stop in vd.stops:
        if isinstance(stop, Tow):
            trailer = facts.trailer_number[stop.trailer]
            chain, origin, to = chains[trailer], place[stop.origin], place[stop.to]
            if chain[-1] == origin and origin != to:
                since[Move(trailer, len(chain), origin, to)] = stop.start
                chains[trailer] = (*chain, to)
            continue
        stage = facts.number[stop.stage]
        found = _stand(state, stage, chains)
        known = stage in held or stage in state.seen or not state.here(stage)
        if not known and found is not None:
            since[stage] = stop.start
            stands.update({stage: found} if found else {})
    return since, stands


def _stand(
    state: State, stage: int, chains: list[tuple[int, ...]]
) -> tuple[tuple[int, int], ...] | None:
    """Return the latest stand at the stage's place of each kind it needs, or None."""
    facts, found = state.facts, []
    for need in facts.stages[stage].trailers:
        fit = [
            (n, t)
            for t, chain in enumerate(chains)
            if facts.trailers[t].kind == need.kind
            for n, place in enumerate(chain)
            if place == facts.stages[stage].place
        ]
        if not fit:
            return None
        number, trailer = max(fit)
        found.append((trailer, number))
    return tuple(found)
