"""Makes a timed van-day out of a team and its stops: every sensible break is tried."""

from collections.abc import Iterator
from math import inf

from dispatch.planner.solve.clock import Clock, Hours
from dispatch.planner.solve.facts import Timed
from dispatch.planner.solve.money import route_cents
from dispatch.planner.solve.sheet import Sheet
from dispatch.planner.solve.state import Key, Move, Route, State, Stop

MOST = 200_000


def best_route(
    state: State,
    key: Key,
    team: tuple[int, ...],
    stops: tuple[Stop, ...],
    since: tuple[int, ...] = (),
) -> tuple[float, Route] | None:
    """Return the cheapest timing of these stops and its cents, or None when none is allowed.

    Where `since` is given, a minute for each stop, none begins before its own, and the timing that begins
    them least later goes before a cheaper one.
    """
    hours = hours_of(state, key, team)
    if hours is None or not stops:
        return None
    least, best = (0, inf), None
    for calm in (True, False) if _touchy(state, stops) else (False,):
        sheet = Sheet(state, key, team, stops, calm=calm, since=since)
        for timed in _known(sheet, hours) if sheet.possible else ():
            held = state.routes[key].held if hours.depart is not None else 0
            route = Route(
                key,
                team,
                stops,
                timed.times,
                timed.depart,
                timed.back,
                timed.rest,
                held,
            )
            late = sum(start for start, _ in timed.times) if since else 0
            rank = late, route_cents(state, route)
            if best is None or rank < least:
                least, best = rank, route
    return (least[1], best) if best else None


def _known(sheet: Sheet, hours: Hours) -> tuple[Timed, ...]:
    """Return the sheet's timings, remembered over weeks: the same question comes up often."""
    memory = sheet.state.facts.timings
    question = (sheet.key, sheet.team, sheet.stops, sheet.signature(hours.rest_minutes))
    found = memory.get(question)
    if found is None:
        if len(memory) > MOST:
            memory.clear()
        found = tuple(timings(sheet, hours)) if sheet.ready() else ()
        memory[question] = found
    return found


def _touchy(state: State, stops: tuple[Stop, ...]) -> bool:
    """Whether some stop has a risk or a told start to heed."""
    facts = state.facts
    return any(
        not isinstance(s, Move) and (facts.stages[s].risk or s in facts.told)
        for s in stops
    )


def hours_of(state: State, key: Key, team: tuple[int, ...]) -> Hours | None:
    """Return when that team may be out with that van that day; None when it may not."""
    problem, day = state.facts.problem, key[1]
    spans = [problem.days[day], state.facts.vans[key[0]].duty[day]]
    spans += [state.facts.people[m].duty[day] for m in team]
    known = [span for span in spans if span is not None]
    if len(known) < len(spans):
        return None
    opens, closes = max(s for s, _ in known), min(e for _, e in known)
    rule = problem.rest
    rest = (
        (rule.minutes, rule.after_min, rule.windows[day])
        if rule
        else (0, 10**9, (0, 0))
    )
    route = state.routes.get(key)
    if route is None or not is_open(state, key):
        return Hours(max(opens, problem.now), closes, *rest)
    done = route.times[: route.held]
    taken = state.facts.taken.get(key)
    return Hours(opens, closes, *rest, done, route.depart, taken, problem.now)


def is_open(state: State, key: Key) -> bool:
    """Whether that van-day is under way and may go on."""
    return key in state.facts.open


def timings(sheet: Sheet, hours: Hours) -> Iterator[Timed]:
    """Yield each allowed timing of the sheet, the one without a break alone when it will do."""
    plain = Clock(sheet, hours, -1)
    back = plain.forward(_depart(hours))
    soonest = plain.times
    if hours.rest is not None:
        yield from _finish(plain, hours, back)
        return
    if back is not None:
        timed = list(_finish(plain, hours, back))
        if timed:
            yield from timed
            return
    for host in _hosts(sheet, hours, soonest):
        clock = Clock(sheet, hours, host)
        yield from _finish(clock, hours, clock.forward(_depart(hours)))


def _depart(hours: Hours) -> int:
    return hours.opens if hours.depart is None else hours.depart


def _hosts(sheet: Sheet, hours: Hours, times: list[tuple[int, int]]) -> Iterator[int]:
    """Where the break could fall, judged by the times without one."""
    opens, closes = hours.rest_window
    opens, closes = opens - 90, closes - hours.rest_minutes
    done = len(hours.done)
    if done and _longer(sheet, hours):
        yield 2 * done - 1
        return
    free = times[done - 1][1] if done else hours.opens
    for i in range(done, len(sheet.stops)):
        start, end = times[i] if i < len(times) else (free, closes + 1)
        if start >= opens and free <= closes:
            yield 2 * i
        if sheet.pausable(i) and start <= closes and end >= opens:
            yield 2 * i + 1
        free = end
    if free <= closes + 1:
        yield 2 * len(sheet.stops)


def _longer(sheet: Sheet, hours: Hours) -> bool:
    """Whether the last thing done was planned with the break inside it."""
    start, end = hours.done[-1]
    return end - start > sheet.minutes[len(hours.done) - 1]


def _finish(clock: Clock, hours: Hours, back: int | None) -> Iterator[Timed]:
    """Yield the timing if it keeps the duty and the break's rule, its departure made late."""
    if back is None or back > hours.closes:
        return
    depart, times, rest = _depart(hours), clock.times, clock.rest
    if hours.depart is None:
        later = clock.latest_depart(back)
        if (
            later > depart
            and (again := clock.forward(later)) is not None
            and again <= back
        ):
            depart, times, rest, back = later, clock.times, clock.rest, again
    if (back - depart > hours.rest_after) == (rest is not None):
        yield Timed(tuple(times), depart, back, rest)
