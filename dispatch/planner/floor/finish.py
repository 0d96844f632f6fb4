"""When a job is finished, or that it is not: the rows of one job."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dispatch.planner.floor.pieces import finish_cents, held_from, most

if TYPE_CHECKING:
    from collections.abc import Sequence

    from dispatch.planner.floor.ledger import Ledger
    from dispatch.planner.floor.sums import Variable
    from dispatch.planner.problem import Job, Problem, Stage


def groups(problem: Problem, job: Job) -> list[list[Stage]]:
    """Return the stages a job is not finished without, those of its variants side by side.

    At most one stage of a group is part of the plan.
    """
    mine = [s for s in problem.stages.values() if s.job == job.id and not s.extra]
    found = [[s] for s in mine if s.variant is None]
    ways = [[s for s in mine if s.variant == way] for way in job.variants]
    longest = max((len(way) for way in ways), default=0)
    return found + [[way[i] for way in ways if i < len(way)] for i in range(longest)]


def finish(week: Ledger, job: Job) -> None:
    """Add one job's finish and whether it is left short, held up by every one of its stages."""
    sums, last = week.sums, week.problem.days[-1][1]
    short = sums.variable(1.0, float(job.unfinished_cents))
    week.short[job.id] = short
    unit = finish_unit(week, job)
    cents = sums.variable(_latest(week, job) / unit, unit)
    never = finish_cents(job, last) / unit
    for group in groups(week.problem, job):
        row = sums.row(0.0, float("inf"))
        short.entries[row] = 1.0
        for stage in group:
            week.out[stage.id].entries[row] = -1.0
        _held_up(week, job, group, cents, never)
    for stage in week.problem.stages.values():
        if stage.job == job.id and stage.extra:
            _held_up(week, job, [stage], cents, 0.0)
    soonest = _soonest(week, job) / unit
    row = sums.row(soonest, float("inf"))
    cents.entries[row], short.entries[row] = 1.0, soonest - never


def _held_up(
    week: Ledger, job: Job, group: Sequence[Stage], cents: Variable, never: float
) -> None:
    """Add that a finish costs no less than the visit of a group ends, or than leaving it out."""
    row = week.sums.row(0.0, float("inf"))
    cents.entries[row] = 1.0
    for stage in group:
        if never:
            week.out[stage.id].entries[row] = -never
        week.sums.finishes += [(i, row) for i in week.of_stage[stage.id]]
        if stage.id in week.visited:
            week.sums.less(
                row,
                -finish_cents(job, week.visited[stage.id].held)
                / finish_unit(week, job),
            )


def finish_unit(week: Ledger, job: Job) -> float:
    """Return the cents in which a job's finish is counted, so that its rows hold small numbers."""
    return max(1.0, finish_cents(job, week.problem.days[-1][1]))


def _latest(week: Ledger, job: Job) -> float:
    """Return more cents than any finish costs: the last end there can be, and the longest hold."""
    stages = [s for s in week.problem.stages.values() if s.job == job.id]
    ends = [week.problem.days[-1][1]]
    ends += [week.visited[s.id].held for s in stages if s.id in week.visited]
    hold = most([s.hold_min for s in stages])
    return finish_cents(job, max(ends) + hold)


def _soonest(week: Ledger, job: Job) -> float:
    """Return the least a finished job's finish costs, by each stage alone."""
    lows = [0.0]
    for group in groups(week.problem, job):
        if group[0].variant is None:
            starts = week.of_stage[group[0].id]
            lows.append(min((piece_finish(week, i) for i in starts), default=0.0))
    return min(max(lows), finish_cents(job, week.problem.days[-1][1]))


def piece_finish(week: Ledger, number: int, minutes: int | None = None) -> float:
    """Return the least cents of a finish by a visit of a piece of so many minutes (None: the quickest)."""
    piece = week.slots.pieces[number]
    stage = week.problem.stages[piece.stage]
    minutes = min(stage.minutes.values()) if minutes is None else minutes
    rest = week.problem.rest.minutes if week.problem.rest else 0
    low, high = piece.low + minutes, piece.high + minutes + rest
    held = held_from(stage.hold_min, low, high)
    return finish_cents(week.problem.jobs[stage.job], low if held is None else held)


def piece_units(week: Ledger, number: int, minutes: int) -> float:
    """Return the same in the job's own unit; nothing for a move of a trailer."""
    if week.slots.pieces[number].stage in week.slots.fetches:
        return 0.0
    job = week.problem.jobs[week.problem.stages[week.slots.pieces[number].stage].job]
    return piece_finish(week, number, minutes) / finish_unit(week, job)
