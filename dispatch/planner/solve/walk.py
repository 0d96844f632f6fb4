"""Ruin and recreate: takes part of the week apart and puts it together better."""

import math
from collections.abc import Callable
from random import Random

from dispatch.planner.solve.insert import Inserter, Taste
from dispatch.planner.solve.jobs import add_job, drop_unworthy
from dispatch.planner.solve.money import total_cents
from dispatch.planner.solve.polish import polish
from dispatch.planner.solve.remove import close, sound
from dispatch.planner.solve.ruin import ruin
from dispatch.planner.solve.state import State

Better = Callable[[State], bool]


def missing_jobs(state: State) -> list[int]:
    """Return the jobs with a stage of the plan that is not placed."""
    facts = state.facts
    return [
        j
        for j, stages in enumerate(facts.of_job)
        if any(state.here(s) and s not in state.seen for s in stages)
    ]


def recreate(inserter: Inserter, state: State, order: list[int], taste: Taste) -> State:
    """Put the jobs in one after another; those that wait for others get a second turn."""
    for job in order:
        state = add_job(inserter, state, job, taste)
    again = [j for j in order if _waits(state, j)]
    for job in again:
        state = add_job(inserter, state, job, taste)
    close(state)
    return state


def _waits(state: State, job: int) -> bool:
    facts = state.facts
    return any(
        s not in state.seen and facts.job_of[p] != job and p in state.seen
        for s in facts.of_job[job]
        for p, *_ in facts.preds[s]
    )


def _forget(_state: State, _cents: float) -> None:
    """Nobody keeps what the walk sees."""


class Walk:
    """One walk through weeks, from a start; `better` accepts or refuses each new best."""

    def __init__(self, inserter: Inserter, start: State, better: Better) -> None:
        self.inserter, self.random = inserter, inserter.random
        self.better = better
        self.seen: Callable[[State, float], None] = _forget
        self.current = self.best = start
        self.now = self.least = total_cents(start)
        self.heat = 0.02 * max(1.0, self.now) / max(1, len(start.facts.jobs))
        self.stale = 0

    def step(self, progress: float) -> None:
        """Try one change; `progress` from 0 to 1 cools the walk."""
        twin = self.current.copy()
        ruin(twin, self.random)
        close(twin)
        if not sound(twin):
            return
        twin = recreate(self.inserter, twin, self._order(twin), self._taste())
        polish(self.inserter, twin)
        if self.random.random() < 0.1:
            twin = drop_unworthy(twin)
        cents = total_cents(twin)
        self.seen(twin, cents)
        self._weigh(twin, cents, max(0.0, 1 - progress))

    def restart(self, state: State) -> None:
        """Go on from a week found elsewhere."""
        self.current = self.best = state
        self.now = self.least = total_cents(state)

    def _weigh(self, twin: State, cents: float, warmth: float) -> None:
        self.stale += 1
        edge = -self.heat * warmth * math.log(max(1e-9, self.random.random()))
        if cents < self.now + edge:
            self.current, self.now = twin, cents
        if cents < self.least - 1e-6:
            if self.better(twin):
                self.best, self.least, self.stale = twin, cents, 0
            else:
                self.current, self.now = self.best, self.least
        elif self.stale > 200:
            self.current, self.now, self.stale = self.best, self.least, 0

    def _order(self, state: State) -> list[int]:
        return job_order(state, self.random)

    def _taste(self) -> Taste:
        noise = self.random.choice((0.0, 0.1, 0.3))
        return Taste(noise=noise, eager=self.random.choice((0.0, 0.0, 0.5)))


def job_order(state: State, random: Random) -> list[int]:
    """Return the missing jobs in an order: dearest, tightest, or any."""
    jobs, facts = missing_jobs(state), state.facts
    kind = random.random()
    if kind < 0.4:
        random.shuffle(jobs)
    elif kind < 0.7:
        jobs.sort(
            key=lambda j: -facts.jobs[j].unfinished_cents * random.uniform(0.5, 1)
        )
    else:
        jobs.sort(key=lambda j: _room(state, j) * random.uniform(0.5, 1))
    return jobs


def _room(state: State, job: int) -> float:
    """Return the narrowest of a job's stages: minutes of starts it could have."""
    facts = state.facts
    chosen = state.chosen.get(job)
    rooms = [
        sum(b - a + 1 for a, b in facts.reach(s, chosen))
        for s in facts.of_job[job]
        if state.here(s)
    ]
    return float(min(rooms, default=0))
