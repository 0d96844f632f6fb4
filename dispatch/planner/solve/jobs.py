"""Puts whole jobs into a week: every stage of one, in the variant that costs least."""

from dispatch.planner.solve.insert import Inserter, Taste
from dispatch.planner.solve.money import total_cents
from dispatch.planner.solve.remove import close, remove, sound
from dispatch.planner.solve.state import State

PLAIN = Taste()
EAGER = 4.0


def blocks(state: State, stages: list[int]) -> list[tuple[int, ...]]:
    """Return the missing stages in an order that works; those of one van-day together."""
    facts = state.facts
    missing = [s for s in stages if state.here(s) and s not in state.seen]
    made: list[tuple[int, ...]] = []
    left = list(missing)
    while left:
        ready = [s for s in left if not any(p in left for p, *_ in facts.preds[s])]
        if not ready:
            break
        first = ready[0]
        left.remove(first)
        tied = {p for p, _, _, same in facts.preds[first] if same}
        at = next((i for i, b in enumerate(made) if tied & set(b)), None)
        if at is None:
            made.append((first,))
        else:
            made[at] = (*made[at], first)
    return made


def variants(state: State, job: int) -> list[str | None]:
    """Return the variants open to the job: the one begun, or all it has."""
    facts = state.facts
    begun = [facts.stages[s].variant for s in facts.of_job[job] if s in state.seen]
    pinned = [
        facts.stages[s].variant for s in facts.of_job[job] if facts.stages[s].pinned
    ]
    fixed = [v for v in (*begun, *pinned) if v is not None]
    return list(fixed[:1]) or list(facts.jobs[job].variants) or [None]


def ready(state: State, stage: int) -> bool:
    """Whether what the stage waits for, outside its own job, is placed."""
    facts = state.facts
    return all(
        p in state.seen or not state.here(p) or facts.job_of[p] == facts.job_of[stage]
        for p, *_ in facts.preds[stage]
    )


def add_job(inserter: Inserter, state: State, job: int, taste: Taste = PLAIN) -> State:
    """Return the week with the job's missing stages in, or as it was when that is no better."""
    best, cents = state, total_cents(state)
    for variant in variants(state, job):
        twin = _whole(inserter, state, (job, variant), taste)
        if twin is None:
            continue
        twin = _extras(inserter, twin, job, taste)
        if (now := total_cents(twin)) < cents:
            best, cents = twin, now
    return _part(inserter, state, job, taste) if best is state else best


def _whole(
    inserter: Inserter, state: State, way: tuple[int, str | None], taste: Taste
) -> State | None:
    job, variant = way
    facts = state.facts
    for eager in (0.0, EAGER):
        twin = state.copy()
        if variant is not None:
            twin.chosen[job] = variant
        must = [s for s in facts.of_job[job] if not facts.stages[s].extra]
        if not all(ready(twin, s) for s in must if twin.here(s)):
            return None
        now = Taste(eager=taste.eager + eager, noise=taste.noise, tight=taste.tight)
        if all(inserter.insert(twin, b, now) for b in blocks(twin, must)):
            return twin
    return None


def placed_whole(inserter: Inserter, state: State, job: int) -> State | None:
    """Return the week with all a job must have, whatever it costs; None when it has no room."""
    way = state.chosen.get(job)
    return _whole(inserter, state, (job, way), PLAIN)


def placed(inserter: Inserter, state: State, stage: int) -> State | None:
    """Return the week with the stage and all it waits for, or None when it has no room."""
    twin = state.copy()
    chain = blocks(twin, _chain(twin, stage))
    loose = Taste(tight=False)
    return twin if all(inserter.insert(twin, b, loose) for b in chain) else None


def _extras(inserter: Inserter, state: State, job: int, taste: Taste) -> State:
    """Add each missing extra, and whatever else pays for itself."""
    facts = state.facts
    for block in blocks(state, facts.of_job[job]):
        waits = [p for s in block for p, *_ in facts.preds[s]]
        if any(p not in state.seen and p not in block and state.here(p) for p in waits):
            continue
        twin = state.copy()
        if not inserter.insert(twin, block, taste):
            continue
        if total_cents(twin) < total_cents(state):
            state = twin
    return state


def _part(inserter: Inserter, state: State, job: int, taste: Taste) -> State:
    """Add the stages that pay for themselves, with those before them, to a job left unfinished."""
    facts = state.facts
    loose = Taste(noise=taste.noise, tight=False)
    for stage in facts.of_job[job]:
        if stage in state.seen or not state.here(stage):
            continue
        chain = _chain(state, stage)
        if sum(facts.stages[s].drop_cents for s in chain) < 3000:
            continue
        twin = state.copy()
        if all(inserter.insert(twin, b, loose) for b in blocks(twin, chain)):
            close(twin)
            if total_cents(twin) < total_cents(state):
                state = twin
    return state


def _chain(state: State, stage: int) -> list[int]:
    """Return the stage and every missing stage before it."""
    found, todo = [stage], [stage]
    while todo:
        for other, *_ in state.facts.preds[todo.pop()]:
            if other not in found and other not in state.seen and state.here(other):
                found.append(other)
                todo.append(other)
    return found


def drop_unworthy(state: State) -> State:
    """Take each job out whose going makes the week cheaper."""
    for job in range(len(state.facts.jobs)):
        if not any(s in state.seen for s in state.facts.of_job[job]):
            continue
        twin = state.copy()
        remove(twin, state.facts.of_job[job])
        close(twin)
        if sound(twin) and total_cents(twin) < total_cents(state):
            state = twin
    return state
