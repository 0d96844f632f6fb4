"""Ways to take part of a week apart, for the search to put together again."""

from random import Random

from dispatch.planner.solve.remove import removable, remove, route_stages
from dispatch.planner.solve.state import State


def ruin(state: State, random: Random) -> None:
    """Take some stages out: of like jobs, of van-days, of a person, of a place, or all."""
    if not state.seen:
        return
    kind = random.random()
    if kind < 0.04:
        picked = sorted(state.seen)
    elif kind < 0.35:
        picked = _jobs(state, random)
    elif kind < 0.5:
        picked = _van_days(state, random)
    elif kind < 0.65:
        picked = _stages(state, random)
    elif kind < 0.8:
        picked = _person(state, random)
    else:
        picked = _place(state, random)
    remove(state, picked)


def _some(random: Random, most: int) -> int:
    return random.randint(1, most)


def _jobs(state: State, random: Random) -> list[int]:
    """Every stage of a few jobs, those whose visits share a van-day first."""
    facts = state.facts
    seed = facts.job_of[random.choice(sorted(state.seen))]
    days = {state.seen[s].key[1] for s in facts.of_job[seed] if s in state.seen}
    others = sorted({facts.job_of[s] for s in state.seen} - {seed})
    random.shuffle(others)
    others.sort(
        key=lambda j: (
            not any(
                s in state.seen and state.seen[s].key[1] in days
                for s in facts.of_job[j]
            )
        )
    )
    jobs = [seed, *others[: _some(random, 3) - 1]]
    return [s for j in jobs for s in facts.of_job[j]]


def _van_days(state: State, random: Random) -> list[int]:
    keys = sorted(state.routes)
    picked = random.sample(keys, min(len(keys), _some(random, 2)))
    return [s for key in picked for s in route_stages(state, key)]


def _stages(state: State, random: Random) -> list[int]:
    seen = sorted(state.seen)
    return random.sample(seen, min(len(seen), _some(random, 6)))


def _person(state: State, random: Random) -> list[int]:
    """Return the van-days of one person, some days of the week."""
    routes = [state.routes[k] for k in sorted(state.routes)]
    member = random.choice(random.choice(routes).team)
    mine = [r for r in routes if member in r.team]
    picked = random.sample(mine, min(len(mine), _some(random, 2)))
    return [s for r in picked for s in route_stages(state, r.key)]


def _place(state: State, random: Random) -> list[int]:
    """Return the stages nearest to one stage's place."""
    facts = state.facts
    movable = sorted(s for s in state.seen if removable(state, s))
    if not movable:
        return []
    at = facts.stages[random.choice(movable)].place
    drive = facts.problem.drive_min[at]
    movable.sort(key=lambda s: drive[facts.stages[s].place] + random.randint(0, 15))
    return movable[: 1 + _some(random, 7)]
