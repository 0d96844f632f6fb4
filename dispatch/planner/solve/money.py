"""What the search believes things cost, in cents (floats; the exact cost is elsewhere)."""

from dispatch.planner.problem import lag_minutes
from dispatch.planner.solve.state import Key, Move, Route, State, Stop


def route_cents(state: State, route: Route) -> float:
    """Wages (overtime on top of the rest of the week), van, risk and moved of one van-day."""
    total = _wages(state, route) + van_cents(state, route.key, route.stops)
    for stop, (start, _) in zip(route.stops, route.times, strict=True):
        if not isinstance(stop, Move):
            total += visit_cents(state, stop, route.key[1], start)
    return total


def _wages(state: State, route: Route) -> float:
    here, total, paid = state.routes.get(route.key), 0.0, route.paid
    for member in route.team:
        person = state.facts.people[member]
        others = state.paid[member]
        if here is not None and member in here.team:
            others -= here.paid
        usual = person.week_regular_min
        over = max(0, others + paid - usual) - max(0, others - usual)
        total += person.cents_per_hour / 60 * (paid + over / 2)
    return total


def van_cents(state: State, key: Key, stops: tuple[Stop, ...]) -> float:
    """Return the van's day and its kilometres."""
    facts, van = state.facts, state.facts.vans[key[0]]
    matrix, at, metres = facts.problem.drive_m, van.base, 0
    for stop in stops:
        if isinstance(stop, Move):
            metres += matrix[at][stop.origin] + matrix[stop.origin][stop.to]
            at = stop.to
        else:
            to = facts.stages[stop].place
            metres += matrix[at][to]
            at = to
    metres += matrix[at][van.base]
    return van.cents_per_day + van.cents_per_km * metres / 1000


def visit_cents(state: State, stage: int, day: int, start: int) -> float:
    """Return the risk of that start, and what moving people from what they were told costs."""
    facts = state.facts
    total: float = sum(c for a, b, c in facts.stages[stage].risk if a <= start < b)
    told, standing = facts.told.get(stage), facts.problem.standing
    if told is None or standing is None:
        return total
    first, last = facts.problem.days[day]
    if not first <= told < last:
        return total
    total -= standing.day_cents
    beyond = abs(start - told) - standing.tolerance_min
    if beyond > 0:
        total += standing.shift_cents + standing.shift_cents_per_hour * beyond / 60
    return total


def finish_cents(state: State, job: int, finish: int) -> float:
    """Return what it costs to finish a job then."""
    facts = state.facts.jobs[job]
    late = 0 if facts.promise is None else max(0, finish - facts.promise)
    cents = facts.finish_cents_per_hour * finish + facts.late_cents_per_hour * late
    return cents / 60


def jobs_delta(state: State, route: Route) -> float:
    """Return what the finishes of the jobs in a route would change by, so far as placed."""
    facts, finish = state.facts, dict[int, int]()
    for stop, (_, end) in zip(route.stops, route.times, strict=True):
        if not isinstance(stop, Move):
            job = facts.job_of[stop]
            held = end + (lag_minutes(facts.stages[stop].hold_min, end) or 0)
            finish[job] = max(finish.get(job, 0), held)
    total = 0.0
    for job, latest in finish.items():
        seen = [state.seen[s] for s in facts.of_job[job] if s in state.seen]
        elsewhere = max((s.held_until for s in seen if s.key != route.key), default=0)
        now = max((s.held_until for s in seen), default=0)
        total += finish_cents(state, job, max(latest, elsewhere))
        total -= finish_cents(state, job, now)
    return total


def total_cents(state: State) -> float:
    """Return the whole week's cost."""
    facts, standing = state.facts, state.facts.problem.standing
    total = float(standing.day_cents * len(facts.told)) if standing else 0.0
    for person, paid in zip(facts.people, state.paid, strict=True):
        over = max(0, paid - person.week_regular_min)
        total += person.cents_per_hour / 60 * (paid + over / 2)
    for route in state.routes.values():
        total += van_cents(state, route.key, route.stops)
        for stop, (start, _) in zip(route.stops, route.times, strict=True):
            if not isinstance(stop, Move):
                total += visit_cents(state, stop, route.key[1], start)
    return total + sum(job_cents(state, job) for job in range(len(facts.jobs)))


def job_cents(state: State, job: int) -> float:
    """Return what a job's finish and its missing stages cost."""
    facts, finish, total, short = state.facts, 0, 0.0, False
    for stage in facts.of_job[job]:
        seen = state.seen.get(stage)
        if seen is not None:
            finish = max(finish, seen.held_until)
        elif state.here(stage):
            total += facts.stages[stage].drop_cents
            short = short or not facts.stages[stage].extra
    if short:
        total += facts.jobs[job].unfinished_cents
        finish = max(finish, facts.problem.days[-1][1])
    return total + finish_cents(state, job, finish)
