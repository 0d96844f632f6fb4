"""The rules one van's day keeps by itself: team, duty, drives, break, visits, supplies."""

from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

from dispatch.planner.around import when
from dispatch.planner.plan import Tow, VanDay, Visit
from dispatch.planner.problem import Minutes, Problem, Stage


def faults(problem: Problem, vd: VanDay) -> list[str]:
    """Return a sentence for each rule this van-day breaks."""
    name = f"Van {vd.van} on day {vd.day + 1}"
    found = [*_team(problem, vd), *_duty(problem, vd), *_break(problem, vd)]
    found += _legs(problem, vd)
    for stop in vd.stops:
        if isinstance(stop, Visit):
            found += _visit(problem, vd, stop)
        else:
            found += _tow(problem, vd, stop)
    return [f"{name}: {fault}." for fault in [*found, *_supplies(problem, vd)]]


def _team(problem: Problem, vd: VanDay) -> Iterator[str]:
    team = [problem.people[m] for m in vd.team]
    seats = problem.vans[vd.van].seats
    if not team or len({p.id for p in team}) != len(team):
        yield "the team is empty or names a person twice"
    if len(team) > seats:
        yield f"{len(team)} people in {seats} seats"
    if not any(p.driver for p in team):
        yield "nobody in the team drives"
    if len(team) == 1 and team[0].not_alone:
        yield f"{team[0].id} may not work alone"
    for a, b in problem.apart:
        if a in vd.team and b in vd.team:
            yield f"{a} and {b} are kept apart"


def _duty(problem: Problem, vd: VanDay) -> Iterator[str]:
    start, end = problem.days[vd.day]
    spans: list[tuple[str, Minutes | None]] = [("the day", (start, end))]
    spans.append((f"van {vd.van}", problem.vans[vd.van].duty[vd.day]))
    spans += [(m, problem.people[m].duty[vd.day]) for m in vd.team]
    for who, span in spans:
        if span is None:
            yield f"{who} is off duty"
        elif vd.depart < span[0] or vd.back > span[1]:
            out, duty = _between(problem, (vd.depart, vd.back)), _between(problem, span)
            yield f"{out} leaves {duty}, the duty of {who}"


def _break(problem: Problem, vd: VanDay) -> Iterator[str]:
    rule, away = problem.rest, vd.back - vd.depart
    due = rule is not None and away > rule.after_min
    if due != (vd.rest is not None):
        yield f"a day of {away} minutes with the break {vd.rest}"
    if rule is None or vd.rest is None:
        return
    start, end = rule.windows[vd.day]
    if vd.rest[1] - vd.rest[0] != rule.minutes:
        yield f"the break {_between(problem, vd.rest)} does not last {rule.minutes} minutes"
    if not start <= vd.rest[0] <= vd.rest[1] <= end:
        yield f"the break {_between(problem, vd.rest)} leaves its window {_between(problem, (start, end))}"
    if not _break_has_room(problem, vd, vd.rest):
        yield f"the break {_between(problem, vd.rest)} cuts a drive, a tow or a visit"


def _between(problem: Problem, span: Minutes) -> str:
    return f"{when(problem, span[0])} to {when(problem, span[1])}"


def _points(problem: Problem, vd: VanDay) -> list[tuple[int, int, int, int]]:
    """Each stop, and the base at both ends, as (place in, place out, start, end)."""
    base = problem.vans[vd.van].base
    points = [(base, base, vd.depart, vd.depart)]
    for stop in vd.stops:
        if isinstance(stop, Tow):
            place = problem.places.index
            points.append((place(stop.origin), place(stop.to), stop.start, stop.end))
        else:
            at = problem.stages[stop.stage].place
            points.append((at, at, stop.start, stop.end))
    return [*points, (base, base, vd.back, vd.back)]


def _break_has_room(problem: Problem, vd: VanDay, rest: Minutes) -> bool:
    for stop in vd.stops:
        if isinstance(stop, Visit) and stop.start <= rest[0] and rest[1] <= stop.end:
            return problem.stages[stop.stage].pausable
    for (_, here, _, free), (there, _, start, _) in pairwise(_points(problem, vd)):
        if free <= rest[0] and rest[1] <= start:
            drive = problem.drive_min[here][there]
            return max(rest[0] - free, start - rest[1]) >= drive
    return False


def _legs(problem: Problem, vd: VanDay) -> Iterator[str]:
    for (_, here, _, free), (there, _, start, _) in pairwise(_points(problem, vd)):
        drive = problem.drive_min[here][there]
        if start - free < drive:
            names = f"{problem.places[here]} to {problem.places[there]}"
            yield f"{start - free} minutes for the {drive} minutes from {names}"


def _lasts(problem: Problem, vd: VanDay, visit: Visit, stage: Stage) -> Iterator[str]:
    must = problem.minutes_for(stage, len(vd.team))
    if must is None:
        yield f"{stage.id} needs a team of {min(stage.minutes)}, has {len(vd.team)}"
        return
    if vd.rest and visit.start <= vd.rest[0] and vd.rest[1] <= visit.end:
        must += vd.rest[1] - vd.rest[0]
    if visit.end - visit.start != must:
        yield f"{stage.id} lasts {visit.end - visit.start} minutes, must last {must}"


def _visit(problem: Problem, vd: VanDay, visit: Visit) -> Iterator[str]:
    stage = problem.stages[visit.stage]
    yield from _lasts(problem, vd, visit, stage)
    if not any(s <= visit.start and visit.end <= e for s, e in stage.windows):
        hours = _between(problem, (visit.start, visit.end))
        yield f"{stage.id}, {hours}, lies in none of its windows"
    for need in stage.needs:
        levels = [problem.people[m].skills.get(need.skill, 0) for m in vd.team]
        able = sum(level >= need.level for level in levels)
        if able < need.count:
            yield f"{stage.id} has {able} of {need.count} with {need.skill} {need.level}"
    for member in stage.barred & set(vd.team):
        yield f"{member} is barred from {stage.id}"
    for item in stage.gear - problem.vans[vd.van].gear:
        yield f"{stage.id} needs {item}, which the van lacks"
    pin = stage.pinned
    if pin and (pin.van, pin.start) != (vd.van, visit.start):
        yield f"{stage.id} is pinned to van {pin.van} at {when(problem, pin.start)}"


def _tow(problem: Problem, vd: VanDay, tow: Tow) -> Iterator[str]:
    trailer = problem.trailers[tow.trailer]
    here, there = problem.places.index(tow.origin), problem.places.index(tow.to)
    drive = -(-problem.drive_min[here][there] * trailer.factor_pct // 100)
    must = trailer.hook_min + drive + trailer.unhook_min
    if tow.end - tow.start != must:
        yield f"moving {trailer.id} takes {must} minutes, not {tow.end - tow.start}"
    if trailer.towed and not problem.vans[vd.van].tows:
        yield f"the van cannot tow {trailer.id}"


def _supplies(problem: Problem, vd: VanDay) -> Iterator[str]:
    load: Counter[str] = Counter()
    for stop in vd.stops:
        if isinstance(stop, Visit):
            load.update(problem.stages[stop.stage].supplies)
    for supply, amount in load.items():
        has = problem.vans[vd.van].carries.get(supply, 0)
        if amount > has:
            yield f"{amount} {supply} needed, {has} carried"
