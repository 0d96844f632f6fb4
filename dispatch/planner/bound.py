"""A proven lower bound on a week's cost, from wages on site and what must be dropped."""

from fractions import Fraction

from dispatch.planner.cost import half_up
from dispatch.planner.problem import Job, Problem, Stage


def lower_bound(problem: Problem) -> int:
    """Return whole cents no plan can go below: each job alone, with the cheapest people, no drive."""
    rates = sorted(p.cents_per_hour for p in problem.people.values())
    total = sum(
        (_job(problem, job, rates) for job in problem.jobs.values()), Fraction(0)
    )
    # Seven parts are rounded one by one: none loses more than half a cent.
    return max(0, half_up(total) - 4)


def _job(problem: Problem, job: Job, rates: list[int]) -> Fraction:
    stages = [s for s in problem.stages.values() if s.job == job.id]
    ways = job.variants or (None,)
    return min(
        _way(problem, job, [s for s in stages if s.variant in (None, way)], rates)
        for way in ways
    )


def _way(problem: Problem, job: Job, stages: list[Stage], rates: list[int]) -> Fraction:
    """Return the least of finishing the job and of leaving it unfinished."""
    done = {s.id: _wages(s, rates) for s in stages}
    least = {s.id: min(done[s.id], Fraction(s.drop_cents)) for s in stages}
    whole = sum((least[s.id] if s.extra else done[s.id] for s in stages), Fraction(0))
    whole += _finish(job, max((_earliest(s) for s in stages if not s.extra), default=0))
    if all(s.extra for s in stages):
        return whole
    part = sum(least.values(), Fraction(job.unfinished_cents))
    return min(whole, part + _finish(job, problem.days[-1][1]))


def _wages(stage: Stage, rates: list[int]) -> Fraction:
    """Return the wages of the visit alone with the cheapest team of the best size."""
    prices = [
        Fraction(minutes * sum(rates[:size]), 60)
        for size, minutes in stage.minutes.items()
        if size <= len(rates)
    ]
    return min(prices, default=Fraction(stage.drop_cents))


def _earliest(stage: Stage) -> int:
    """Return the earliest minute the stage's hold could be over, by its windows."""
    quickest = min(stage.minutes.values())
    ends = [s + quickest for s, e in stage.windows if s + quickest <= e]
    hold = stage.hold_min if isinstance(stage.hold_min, int) else 0
    return min(ends, default=0) + hold


def _finish(job: Job, finish: int) -> Fraction:
    late = 0 if job.promise is None else max(0, finish - job.promise)
    cents = finish * job.finish_cents_per_hour + late * job.late_cents_per_hour
    return Fraction(cents, 60)
