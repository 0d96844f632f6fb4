"""What the search believes things cost, in cents (floats; the exact cost is elsewhere)."""

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
