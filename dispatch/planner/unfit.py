"""Why a visit cannot be at a van's day and minute: every bound it breaks, in sentences with their numbers."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Protocol

from dispatch.planner.around import when
from dispatch.planner.plan import Plan, Tow, VanDay, Visit
from dispatch.planner.problem import Problem, Stage
from dispatch.planner.why_here import why_here

_MOST = 3


class At(Protocol):
    """A van's day and a minute; the team where that van has none yet."""

    @property
    def van(self) -> str:
        """The van's id."""

    @property
    def day(self) -> int:
        """The day's number, from 0."""

    @property
    def start(self) -> int:
        """The minute it would start."""

    @property
    def team(self) -> tuple[str, ...]:
        """Who would ride, where the van has no team yet."""


def why_not(
    problem: Problem, plan: Plan, stage: str, at: At, otherwise: str
) -> tuple[str, ...]:
    """Return up to three reasons, what no other hour would mend first; `otherwise` where none is found."""
    van_day = next(
        (vd for vd in plan.van_days if (vd.van, vd.day) == (at.van, at.day)), None
    )
    team = van_day.team if van_day else at.team
    row = problem.stages[stage]
    if not team:
        return (f"{at.van} has nobody to ride it on day {at.day + 1}. Say who goes.",)
    found = [*crew_faults(problem, at.van, at.day, team)]
    found += stage_faults(problem, row, at.van, at.day, team)
    if found:
        return tuple(found[:_MOST])
    length = problem.minutes_for(row, len(team)) or 0
    found = [
        *_window(problem, row, at, length),
        *_trailers(problem, plan, row, at.start),
    ]
    found += [*_bounds(problem, plan, stage, at, length)]
    rest = (
        otherwise
        or "No timing of that day leaves room for it beside what the van does."
    )
    return tuple(dict.fromkeys(found))[:_MOST] or (rest,)


def stage_faults(
    problem: Problem, row: Stage, van: str, day: int, team: tuple[str, ...]
) -> Iterator[str]:
    """Yield what a team in a van on a day lacks for a stage, whatever the hour."""
    wheels, people = problem.vans[van], [problem.people[name] for name in team]
    if problem.minutes_for(row, len(team)) is None:
        yield f"It needs {min(row.minutes)} people; {van} has {len(team)} on day {day + 1}."
    for need in row.needs:
        able = sum(p.skills.get(need.skill, 0) >= need.level for p in people)
        if able < need.count:
            yield f"It needs {need.count} with {need.skill} at level {need.level}; the team has {able}."
    for name in sorted(row.barred & set(team)):
        yield f"{name} may not do it."
    for item in sorted(row.gear - wheels.gear):
        yield f"It needs the {item}, which {van} does not carry."


def crew_faults(
    problem: Problem, van: str, day: int, team: tuple[str, ...]
) -> Iterator[str]:
    """Yield why a team may not ride in a van on a day at all."""
    wheels = problem.vans[van]
    if wheels.duty[day] is None:
        yield f"{van} is off the road on day {day + 1}."
    if len(team) > wheels.seats:
        yield f"{van} has {wheels.seats} seats for {len(team)} people."
    away = [name for name in team if problem.people[name].duty[day] is None]
    yield from (f"{name} is away on day {day + 1}." for name in away)
    if not any(problem.people[name].driver for name in team):
        yield "Nobody in the team drives."
    yield from _company(problem, team)


def _company(problem: Problem, team: tuple[str, ...]) -> Iterator[str]:
    if len(team) == 1 and problem.people[team[0]].not_alone:
        yield f"{team[0]} may not work alone."
    for first, second in problem.apart:
        if {first, second} <= set(team):
            yield f"{first} and {second} are kept apart."


def _window(problem: Problem, row: Stage, at: At, length: int) -> Iterator[str]:
    end = at.start + length
    if any(a <= at.start and end <= b for a, b in row.windows):
        return
    first, last = problem.days[at.day]
    cut = [(max(a, first), min(b, last)) for a, b in row.windows]
    fit = [(a, b) for a, b in cut if b - a >= length]
    if not fit:
        yield f"It has no hours on day {at.day + 1} that are long enough for its {length} minutes."
        return
    spans = ", ".join(f"{when(problem, a)} to {when(problem, b)}" for a, b in fit)
    yield f"It takes {length} minutes, to {when(problem, end)}; its hours that day are {spans}."


def _trailers(problem: Problem, plan: Plan, row: Stage, start: int) -> Iterator[str]:
    here = problem.places[row.place]
    for need in row.trailers:
        kinds = [t for t in problem.trailers.values() if t.kind == need.kind]
        places = {t.id: _stands(problem, plan, t.id, start) for t in kinds}
        if here not in places.values():
            said = ", ".join(f"{name} is at {place}" for name, place in places.items())
            yield f"It needs a {need.kind} at {here} then; {said or 'there is none'}."


def _stands(problem: Problem, plan: Plan, trailer: str, minute: int) -> str:
    """Where a trailer stands at a minute, or is on its way to."""
    place = problem.places[problem.trailers[trailer].place]
    stops = (stop for vd in plan.van_days for stop in vd.stops)
    tows = [s for s in stops if not isinstance(s, Visit) and s.trailer == trailer]
    for tow in sorted(tows, key=lambda tow: tow.start):
        if tow.start <= minute:
            place = tow.to
    return place


def _bounds(
    problem: Problem, plan: Plan, stage: str, at: At, length: int
) -> Iterator[str]:
    """Yield what it would have to wait for, or be over for, where it is put."""
    here = why_here(problem, _as_put(plan, stage, at, length), stage)
    if here is None:
        return
    early = [h for h in here.before if not h.wish and h.minute > at.start]
    late = [h for h in here.after if not h.wish and h.minute < at.start]
    for hold in sorted(early, key=lambda h: -h.minute):
        yield f"{hold.sentence} So it cannot start before {when(problem, hold.minute)}."
    for hold in sorted(late, key=lambda h: h.minute):
        yield f"{hold.sentence} So it cannot start after {when(problem, hold.minute)}."


def _as_put(plan: Plan, stage: str, at: At, length: int) -> Plan:
    """Return the plan with the visit there, whatever that breaks."""
    visit = Visit(stage=stage, start=at.start, end=at.start + length)
    rows = [
        replace(vd, stops=tuple(s for s in vd.stops if not _is(s, stage)))
        for vd in plan.van_days
    ]
    known = any((vd.van, vd.day) == (at.van, at.day) for vd in rows)
    if not known:
        rows.append(
            VanDay(
                van=at.van,
                day=at.day,
                team=at.team,
                depart=visit.start,
                back=visit.end,
                rest=None,
                stops=(),
            )
        )
    return replace(
        plan,
        van_days=tuple(
            replace(vd, stops=_sorted((*vd.stops, visit)))
            if (vd.van, vd.day) == (at.van, at.day)
            else vd
            for vd in rows
        ),
    )


def _is(stop: object, stage: str) -> bool:
    return isinstance(stop, Visit) and stop.stage == stage


def _sorted(stops: tuple[Visit | Tow, ...]) -> tuple[Visit | Tow, ...]:
    return tuple(sorted(stops, key=lambda stop: stop.start))
