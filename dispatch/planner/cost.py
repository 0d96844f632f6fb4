"""What a plan costs, in exact cents: each part summed as fractions and rounded half-up once."""

from collections import defaultdict
from collections.abc import Mapping
from fractions import Fraction

from dispatch.planner.plan import PARTS, Plan, Tow, VanDay
from dispatch.planner.problem import Job, Problem, Stage, lag_minutes


def half_up(amount: Fraction) -> int:
    """Round to whole cents, halves up."""
    return (amount + Fraction(1, 2)).__floor__()


def cost(problem: Problem, plan: Plan) -> dict[str, int]:
    """Return the seven parts and their total, in cents."""
    parts: dict[str, Fraction | int] = {
        "wages": _wages(problem, plan),
        "vans": _vans(problem, plan),
        "risk": _risk(problem, plan),
        "dropped": _dropped(problem, plan),
        "moved": _moved(problem, plan),
        **_jobs(problem, plan),
    }
    rounded = {name: half_up(Fraction(parts[name])) for name in PARTS}
    return {**rounded, "total": sum(rounded.values())}


def in_plan(stage: Stage, chosen: Mapping[str, str]) -> bool:
    """Whether the stage is part of the plan: of no variant, or of the chosen one."""
    return stage.variant is None or chosen.get(stage.job) == stage.variant


def _wages(problem: Problem, plan: Plan) -> Fraction:
    paid: dict[str, int] = defaultdict(int)
    for vd in plan.van_days:
        unpaid = vd.rest[1] - vd.rest[0] if vd.rest else 0
        for member in vd.team:
            paid[member] += vd.back - vd.depart - unpaid
    total = Fraction(0)
    for member, minutes in paid.items():
        person = problem.people[member]
        over = Fraction(max(0, minutes - person.week_regular_min), 2)
        total += Fraction(person.cents_per_hour, 60) * (minutes + over)
    return total


def metres(problem: Problem, vd: VanDay) -> int:
    """Return the metres a van drives in a van-day; tow legs count their plain metres."""
    index = {name: i for i, name in enumerate(problem.places)}
    at = base = problem.vans[vd.van].base
    total = 0
    for stop in vd.stops:
        if isinstance(stop, Tow):
            legs: tuple[int, ...] = (index[stop.origin], index[stop.to])
        else:
            legs = (problem.stages[stop.stage].place,)
        for to in legs:
            total += problem.drive_m[at][to]
            at = to
    return total + problem.drive_m[at][base]


def _vans(problem: Problem, plan: Plan) -> Fraction:
    total = Fraction(0)
    for vd in plan.van_days:
        van = problem.vans[vd.van]
        driven = Fraction(van.cents_per_km * metres(problem, vd), 1000)
        total += van.cents_per_day + driven
    return total


def _risk(problem: Problem, plan: Plan) -> int:
    return sum(
        cents
        for name, (_, visit) in plan.visits().items()
        for start, end, cents in problem.stages[name].risk
        if start <= visit.start < end
    )


def _missing(problem: Problem, plan: Plan) -> list[Stage]:
    seen = plan.visits()
    return [
        s
        for s in problem.stages.values()
        if in_plan(s, plan.chosen) and s.id not in seen
    ]


def _dropped(problem: Problem, plan: Plan) -> int:
    missing = _missing(problem, plan)
    short = {s.job for s in missing if not s.extra}
    unfinished = sum(problem.jobs[j].unfinished_cents for j in short)
    return unfinished + sum(s.drop_cents for s in missing)


def finishes(problem: Problem, plan: Plan) -> dict[str, int]:
    """Return each job's finish in minutes: its last visit's end and hold, or the horizon's end."""
    short = {s.job for s in _missing(problem, plan) if not s.extra}
    last = problem.days[-1][1]
    finish = {job: last if job in short else 0 for job in problem.jobs}
    for name, (_, visit) in plan.visits().items():
        stage = problem.stages[name]
        if in_plan(stage, plan.chosen):
            held = visit.end + (lag_minutes(stage.hold_min, visit.end) or 0)
            finish[stage.job] = max(finish[stage.job], held)
    return finish


def _lateness(job: Job, finish: int) -> Fraction:
    if job.promise is None:
        return Fraction(0)
    return Fraction(max(0, finish - job.promise) * job.late_cents_per_hour, 60)


def _jobs(problem: Problem, plan: Plan) -> dict[str, Fraction]:
    parts = {"late": Fraction(0), "finish": Fraction(0)}
    for name, finish in finishes(problem, plan).items():
        job = problem.jobs[name]
        parts["late"] += _lateness(job, finish)
        parts["finish"] += Fraction(finish * job.finish_cents_per_hour, 60)
    return parts


def _moved(problem: Problem, plan: Plan) -> Fraction:
    total, told = Fraction(0), problem.standing
    if told is None:
        return total
    seen = plan.visits()
    for name, start in told.visits.items():
        at = seen.get(name)
        if at is None or at[0].day != problem.day_of(start):
            total += told.day_cents
            continue
        beyond = max(0, abs(at[1].start - start) - told.tolerance_min)
        fixed = told.shift_cents if beyond else 0
        total += fixed + Fraction(beyond * told.shift_cents_per_hour, 60)
    return total
