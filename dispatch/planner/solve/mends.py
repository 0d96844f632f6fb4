"""What would let a stage in that found no room: one thing more, or what it would push out, with the price."""

from collections.abc import Callable, Iterable, Iterator, Mapping

from dispatch.planner.core.shapes import Week
from dispatch.planner.core.weeks import twin_of
from dispatch.planner.mend import Mend
from dispatch.planner.plan import Plan
from dispatch.planner.problem import Problem
from dispatch.planner.solve.by_itself import fits_by_itself
from dispatch.planner.solve.reliefs import Relief, reliefs
from dispatch.planner.solve.spares import with_spares
from dispatch.planner.solve.whatif import WhatIf
from dispatch.planner.ways import ways_of

Enough = Callable[[], bool]
Tried = tuple[int, int, str]  # cents added, minutes longer, what it says
# So many other jobs are taken out, one at a time, to see what a stage would push out.
MOST_RIVALS = 24


def mends(
    problem: Problem, plan: Plan, stages: Iterable[str], enough: Enough
) -> Mapping[str, Mend]:
    """Return for each of these stages left out what would let it in, as far as there is time.

    The stages of one job share one answer, but extras have their own.
    """
    whatif = WhatIf(with_spares(problem), plan)
    bare = whatif.without(range(len(whatif.facts.stages)))
    found: dict[int, Mend] = {}
    told: dict[str, Mend] = {}
    for name in stages:
        if enough():
            break
        number = whatif.facts.number[name]
        extra = whatif.facts.stages[number].extra
        key = -1 - number if extra else whatif.facts.job_of[number]
        if key not in found:
            found[key] = _mend(whatif, bare, number, enough)
        told[name] = found[key]
    return told


def _mend(whatif: WhatIf, bare: Week, number: int, enough: Enough) -> Mend:
    """Return the cheapest mend over the ways the job may be done."""
    stage, job = whatif.facts.stages[number], whatif.facts.job_of[number]
    best: Mend | None = None
    fits = False
    ways = ways_of(whatif.problem, whatif.plan, stage)
    for way in ways:
        with whatif.done_as(job, way):
            bare["chosen"][job] = whatif.week["chosen"][job]
            if not _fits(whatif, bare, number):
                continue
            fits = True
            needed = _needed(whatif, job, whatif.week, number)
            found = _relieved(whatif, needed, way, enough)
        if found and (best is None or _cents(found) < _cents(best)):
            best = found
    if best is not None:
        return best
    if fits or fits_by_itself(whatif.problem, stage):
        return _pushing(whatif, job, number, enough)
    needed = _needed(whatif, job, bare, number)
    stuck = whatif.put(twin_of(bare, whatif.seed), needed)
    return Mend(never=stage.id if stuck is None else whatif.facts.stages[stuck].id)


def _cents(mend: Mend) -> float:
    return 0.0 if mend.cents is None else mend.cents


def _fits(whatif: WhatIf, bare: Week, number: int) -> bool:
    """Whether the stage, or its job when it is no extra, goes at once into an otherwise empty week."""
    walker, days = whatif.trial(bare), range(len(whatif.problem.days))
    if whatif.added(number, days, walker) is not None:
        return True
    if not whatif.facts.stages[number].extra:
        return False
    walker.fill(whatif.facts.job_of[number])
    return bool(
        walker.now["seen"][number]["route"] >= 0 or walker.added(number) is not None
    )


def _needed(whatif: WhatIf, job: int, week: Week, number: int) -> list[int]:
    """Return the stages that a job lacks in a week to be finished; an extra asked about is the only one."""
    stages = whatif.facts.stages
    if stages[number].extra:
        return [number]
    return [s for s in whatif.missing(job, week) if not stages[s].extra]


def _relieved(
    whatif: WhatIf, needed: list[int], way: str | None, enough: Enough
) -> Mend | None:
    """Return the relief with which the week costs least; a window only where nothing else helps."""
    best: Tried | None = None
    for relief in reliefs(whatif, needed):
        if enough() or (best and not relief.owners):
            break
        found = _tried(whatif, needed[0], relief)
        best = min((t for t in (best, found) if t), default=None)
    if best is None:
        return None
    done = f", done {way}," if way else ""
    return Mend(says=f"{best[2]}{done} would let it in", cents=best[0])


def _tried(whatif: WhatIf, stage: int, relief: Relief) -> Tried | None:
    """Return what a relief adds with the job in; of longer hours the shortest that will do."""
    with relief.in_force():
        cents = whatif.added(stage, relief.days)
    if cents is None:
        return None
    for less in relief.shorter:
        found = _tried(whatif, stage, less)
        if found is not None:
            return found
    return round(cents), relief.minutes, relief.says


def _pushing(whatif: WhatIf, job: int, number: int, enough: Enough) -> Mend:
    """Return what the job would push out for the least cost, each of the likeliest rivals taken out in turn."""
    best: tuple[float, Week] | None = None
    for rival in _rivals(whatif, job)[:MOST_RIVALS]:
        for week in () if enough() else _swapped(whatif, job, rival):
            needed = _needed(whatif, job, week, number)
            cents = whatif.priced(week) - whatif.cents
            done = all(week["seen"][s]["route"] >= 0 for s in needed)
            if done and (best is None or cents < best[0]):
                best = (cents, week.copy())
    if best is None:
        return Mend(tried=not enough())
    out = tuple(
        stage.id
        for i, stage in enumerate(whatif.facts.stages)
        if whatif.week["seen"][i]["route"] >= 0 > best[1]["seen"][i]["route"]
    )
    return Mend(cents=best[0], pushes_out=out)


def _rivals(whatif: WhatIf, job: int) -> list[int]:
    """Return the jobs of the week that could make room: those that need most of the same, the one worth least first."""
    facts = whatif.facts
    placed = {facts.job_of[s] for s in whatif.state.seen} - {job}
    mine = _uses(whatif, job)

    def key(other: int) -> tuple[int, int, int]:
        return (
            -len(mine & _uses(whatif, other)),
            facts.jobs[other].unfinished_cents,
            other,
        )

    return sorted(placed, key=key)


def _uses(whatif: WhatIf, job: int) -> set[tuple[str, str]]:
    """Return the skills and the kinds of trailer a job needs."""
    stages = [whatif.facts.stages[s] for s in whatif.facts.of_job[job]]
    skills = {("skill", n.skill) for s in stages for n in s.needs}
    return skills | {("trailer", t.kind) for s in stages for t in s.trailers}


def _swapped(whatif: WhatIf, job: int, rival: int) -> Iterator[Week]:
    """Yield weeks with the rival out, the job in, and of the rival again what then has a place.

    What must soon follow each other of the job is tried together on each day, too.
    """
    without = whatif.without(whatif.facts.of_job[rival])
    tied = whatif.tied(job)
    for day in (None, *(range(len(whatif.problem.days)) if tied else ())):
        walker = whatif.trial(without)
        walker.room["lacked"] = 1
        walker.room["lacked"][[job, rival]] = 0
        with whatif.only_on(tied if day is not None else (), day or 0):
            walker.fill(job)
        yield walker.now
