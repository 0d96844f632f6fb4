"""Puts a block of stages where it costs least: over vans, days, teams, places in the order."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from random import Random
from typing import NamedTuple

from dispatch.planner.solve.allowed import stage_starts
from dispatch.planner.solve.facts import Facts, mask
from dispatch.planner.solve.money import jobs_delta, route_cents, van_cents
from dispatch.planner.solve.reach import keys_for
from dispatch.planner.solve.sheet import drives, minutes
from dispatch.planner.solve.stands import Serving, servings
from dispatch.planner.solve.state import Key, Route, State, Stop
from dispatch.planner.solve.teams import Teams, bits
from dispatch.planner.solve.timing import best_route, is_open

# Finishes may come earlier when a van-day is timed anew: cents the least cost may miss.
SLACK = 200.0


@dataclass(frozen=True, kw_only=True, slots=True)
class Taste:
    """How to choose: `eager` cents a minute for the start, `noise` a share of the cost."""

    eager: float = 0.0
    noise: float = 0.0
    tight: bool = True


class Option(NamedTuple):
    """A van-day with the block in it, and what that changes in cents."""

    cents: float
    route: Route
    serving: Serving


class Try(NamedTuple):
    """A team and an order of stops worth timing, and the least it can change the cost by."""

    least: float
    key: Key
    team: tuple[int, ...]
    order: tuple[Stop, ...]
    before: float


class Inserter:
    """Finds and makes insertions for one problem."""

    def __init__(self, facts: Facts, random: Random) -> None:
        self.facts, self.random = facts, random
        self.teams = Teams(facts)
        self.enough: Callable[[], bool] = lambda: False

    def insert(self, state: State, block: tuple[int, ...], taste: Taste) -> bool:
        """Insert the block where it costs least; False, and nothing changed, if nowhere."""
        best: Option | None = None
        if self.enough():
            return False
        for serving in servings(state, block):
            state.served.update(serving.stands)
            best = self._cheapest(state, block, (serving, taste), best)
            for stage in serving.stands:
                state.served.pop(stage, None)
        if best is None:
            return False
        state.served.update(best.serving.stands)
        state.put(best.route)
        return True

    def _cheapest(
        self,
        state: State,
        block: tuple[int, ...],
        way: tuple[Serving, Taste],
        best: Option | None,
    ) -> Option | None:
        """Return the best option: the most promising are timed first, the hopeless never."""
        serving, taste = way
        tries: list[Try] = []
        for key in keys_for(state, block, serving, tight=taste.tight):
            if not all(_open(state, stage, key) for stage in block):
                continue
            tries += self._tries(state, key, block, serving)
        tries.sort(key=lambda t: t.least)
        for a in tries:
            if best is not None and a.least - SLACK > best.cents:
                break
            found = best_route(state, a.key, a.team, a.order)
            if found is None:
                continue
            cents = found[0] - a.before + jobs_delta(state, found[1])
            option = Option(cents, found[1], serving)
            priced = self._priced(option, block, taste)
            if best is None or priced < best.cents:
                best = option._replace(cents=priced)
        return best

    def _priced(self, option: Option, block: tuple[int, ...], taste: Taste) -> float:
        cents = option.cents
        if taste.eager:
            at = option.route.stops.index(block[-1])
            cents += taste.eager * option.route.times[at][1]
        if taste.noise:
            cents += abs(cents) * taste.noise * self.random.random()
        return cents

    def _tries(
        self, state: State, key: Key, block: tuple[int, ...], serving: Serving
    ) -> Iterator[Try]:
        """Yield the teams and orders for a van-day, with the least each can cost."""
        old = state.routes.get(key)
        stops: tuple[Stop, ...] = old.stops if old else ()
        before = route_cents(state, old) if old else 0.0
        told = self.facts.problem.standing
        before_least = before + (told.day_cents * len(block) if told else 0)
        orders = [
            (order, sum(drives(state, key, order)), van_cents(state, key, order))
            for order in _orders(stops, old.held if old else 0, block, serving)
        ]
        for team in self._crews(state, key, (*stops, *block)):
            cents, size = self.teams.rate(team) / 60, len(team)
            work = sum(minutes(state, stop, size) for stop in orders[0][0])
            for order, drive, van in orders:
                least = cents * (work + drive) + van - before_least
                yield Try(least, key, team, order, before)

    def _crews(
        self, state: State, key: Key, stops: tuple[Stop, ...]
    ) -> list[tuple[int, ...]]:
        """Teams worth trying: the one that rides, it and one more, and the cheapest few."""
        stages = frozenset(s for s in stops if isinstance(s, int))
        old, seats = state.routes.get(key), self.facts.vans[key[0]].seats
        free = self.teams.on_duty[key[1]] & ~state.busy[key[1]]
        if old is None:
            return self.teams.choose(free, seats, stages)[:6]
        fits = self.teams.allowed(mask(old.team), stages)
        crews = [old.team] if fits else []
        if is_open(state, key):
            return crews
        more = sorted(bits(free), key=lambda i: self.facts.people[i].cents_per_hour)
        if len(old.team) < seats:
            bigger = [tuple(sorted((*old.team, m))) for m in more]
            fit = [t for t in bigger if self.teams.allowed(mask(t), stages)]
            crews += fit[: 1 if fits else 3]
        chosen = self.teams.choose(free | mask(old.team), seats, stages)
        return list(dict.fromkeys([*crews, *chosen[: 1 if fits else 3]]))


def _open(state: State, stage: int, key: Key) -> bool:
    """Whether, as all else stands, the quickest team could start the stage in that van-day."""
    quickest = min(state.facts.stages[stage].minutes.values())
    return bool(stage_starts(state, stage, key, quickest, calm=False))


def _orders(
    stops: tuple[Stop, ...], held: int, block: tuple[int, ...], serving: Serving
) -> Iterator[tuple[Stop, ...]]:
    for at in range(held, len(stops) + 1):
        after = (*block, *stops[at:])
        if not serving.moves:
            yield (*stops[:at], *after)
            continue
        for tow in range(held, at + 1):
            yield (*stops[:tow], *serving.moves, *stops[tow:at], *after)
