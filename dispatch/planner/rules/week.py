"""The rules that hold across van-days: once each, order, boats, people, frozen, pins."""

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from typing import Any

from dispatch.planner.around import when
from dispatch.planner.cost import in_plan
from dispatch.planner.plan import Plan, VanDay, Visit, read_van_day
from dispatch.planner.problem import After, Problem, Stage, lag_minutes


def faults(problem: Problem, plan: Plan) -> list[str]:
    """Return a sentence for each rule broken between van-days."""
    return [
        *_once(problem, plan),
        *_one_ride(plan),
        *_order(problem, plan),
        *_boats(problem, plan),
        *_frozen(problem, plan),
        *_now(problem, plan),
    ]


def _once(problem: Problem, plan: Plan) -> Iterator[str]:
    listed = Counter(u.stage for u in plan.unplaced)
    listed.update(
        s.stage for vd in plan.van_days for s in vd.stops if isinstance(s, Visit)
    )
    seen = plan.visits()
    for stage in problem.stages.values():
        want = int(in_plan(stage, plan.chosen))
        if listed[stage.id] != want:
            yield f"{stage.id} is visited or listed as left out {listed[stage.id]} times, must be {want}."
        if stage.pinned and want and stage.id not in seen:
            yield f"{stage.id} is pinned but not visited."
    for job in problem.jobs.values():
        if job.variants and plan.chosen[job.id] not in job.variants:
            yield f"Job {job.id} chooses {plan.chosen[job.id]!r}, which it does not offer."


def _one_ride(plan: Plan) -> Iterator[str]:
    days = Counter((vd.van, vd.day) for vd in plan.van_days)
    for (van, day), times in days.items():
        if times > 1:
            yield f"{van} is sent out {times} times on day {day + 1}."
    rides: dict[tuple[str, int], list[str]] = defaultdict(list)
    for vd in plan.van_days:
        for name in set(vd.team):
            rides[name, vd.day].append(vd.van)
    for (name, day), vans in rides.items():
        if len(vans) > 1:
            yield f"{name} rides in {' and '.join(vans)} on day {day + 1}, and may ride in one only."


def _order(problem: Problem, plan: Plan) -> Iterator[str]:
    seen = plan.visits()
    for name, (vd, visit) in seen.items():
        for after in problem.stages[name].after:
            if not in_plan(problem.stages[after.stage], plan.chosen):
                continue
            if after.stage not in seen:
                yield f"{name} is visited, but {after.stage} before it is not."
                continue
            yield from _gap(name, after, (vd, visit), seen[after.stage])


def _gap(
    name: str,
    after: After,
    this: tuple[VanDay, Visit],
    other: tuple[VanDay, Visit],
) -> Iterator[str]:
    end = other[1].end
    gap = this[1].start - end
    low = lag_minutes(after.min_lag, end)
    high = gap if after.max_lag is None else lag_minutes(after.max_lag, end)
    if low is None or high is None:
        yield f"{after.stage} ends at {end}, outside its lag table towards {name}."
    elif not low <= gap <= high:
        yield f"{name} starts {gap} minutes after {after.stage}, must be {low} to {high}."
    where = [(vd.van, vd.day) for vd, _ in (this, other)]
    if after.same_van_day and where[0] != where[1]:
        yield f"{name} is not on the van and day of {after.stage}."


def _held(stage: Stage, visit: Visit) -> int | None:
    hold = lag_minutes(stage.hold_min, visit.end)
    return None if hold is None else visit.end + hold


def _boats(problem: Problem, plan: Plan) -> Iterator[str]:
    boats: dict[str, list[tuple[int, int, str]]] = defaultdict(list)
    for name, (_, visit) in plan.visits().items():
        stage = problem.stages[name]
        until = _held(stage, visit)
        if until is None:
            yield f"{name} ends at {visit.end}, outside its hold table."
        boat = problem.jobs[stage.job].boat
        boats[boat].append((visit.start, until or visit.end, name))
    for boat, rows in boats.items():
        rows.sort()
        for i, (_, until, name) in enumerate(rows):
            for start, _, other in rows[i + 1 :]:
                if start < until:
                    yield f"Boat {boat}: {other} starts at {start} while {name} runs or cures to {until}."


def _goes_on(held: Mapping[str, Any], here: VanDay) -> bool:
    was = read_van_day({"back": 0, **held})
    return (
        (here.team, here.depart) == (was.team, was.depart)
        and here.stops[: len(was.stops)] == was.stops
        and was.rest in (None, here.rest)
    )


def _frozen(problem: Problem, plan: Plan) -> Iterator[str]:
    at = {(vd.van, vd.day): vd for vd in plan.van_days}
    for held in problem.frozen:
        here = at.get((held["van"], held["day"]))
        name = f"The frozen day {held['day']} of van {held['van']}"
        if here is None:
            yield f"{name} is missing."
        elif not held.get("open"):
            if here != read_van_day(held):
                yield f"{name} is not as it stands."
        elif not _goes_on(held, here):
            yield f"{name} does not go on from what was done."
        elif any(s.start < problem.now for s in here.stops[len(held["stops"]) :]):
            yield f"{name} starts something new before now, minute {problem.now}."


def _now(problem: Problem, plan: Plan) -> Iterator[str]:
    held = {(row["van"], row["day"]) for row in problem.frozen}
    for vd in plan.van_days:
        if (vd.van, vd.day) not in held and vd.depart < problem.now:
            yield f"Van {vd.van} departs {when(problem, vd.depart)}, before now, {when(problem, problem.now)}."
        if not vd.stops and (vd.van, vd.day) not in held:
            yield f"Van {vd.van} on day {vd.day + 1} goes nowhere."
