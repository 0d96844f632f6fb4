"""A stage's starts on a day, cut into pieces in which a start costs about the same.

A piece never costs more than any visit that starts in it: what is cut from it makes the floor lower,
never higher.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from dispatch.planner.floor.tows import Fetch
from dispatch.planner.problem import Job, Lag, Problem, Stage

# A piece is cut again where its finish differs by more cents than this.
_GRAIN = 1500


@dataclass(frozen=True, slots=True)
class Piece:
    """Starts `low <= start <= high` (minutes) of a stage on a day, the visit over by `shut`; `cents` at least."""

    stage: str
    day: int
    low: int
    high: int
    shut: int
    cents: float


def pieces(problem: Problem, stage: Stage) -> list[Piece]:
    """Return all starts of a stage that is not frozen, in pieces."""
    quickest = min(stage.minutes.values())
    found = []
    for day, (dawn, dusk) in enumerate(problem.days):
        for window in stage.windows:
            low = max(window[0], dawn, problem.now)
            shut = min(window[1], dusk)
            for first, last in _cut(problem, stage, low, shut - quickest):
                cents = _cents(problem, stage, day, first, last)
                found.append(Piece(stage.id, day, first, last, shut, cents))
    return found


def move_pieces(problem: Problem, fetch: Fetch) -> list[Piece]:
    """Return all starts of a move of a trailer, a piece a day."""
    found = []
    for day, (dawn, dusk) in enumerate(problem.days):
        low, high = max(dawn, problem.now), dusk - fetch.minutes
        if low <= high:
            found.append(Piece(fetch.id, day, low, high, dusk, 0.0))
    return found


def _cut(
    problem: Problem, stage: Stage, low: int, high: int
) -> Iterator[tuple[int, int]]:
    """Cut starts where risk or what was told changes, and where the finish gets dearer by a grain."""
    if stage.pinned is not None:
        low = high = stage.pinned.start if low <= stage.pinned.start <= high else low
        high = low if low == stage.pinned.start else low - 1
    if low > high:
        return
    edges = {low, *(e for e in _edges(problem, stage) if low < e <= high)}
    rows = sorted(edges)
    for first, last in zip(rows, [*(e - 1 for e in rows[1:]), high], strict=True):
        step = _grain_minutes(problem.jobs[stage.job], first)
        for start in range(first, last + 1, step):
            yield start, min(last, start + step - 1)


def _edges(problem: Problem, stage: Stage) -> Iterator[int]:
    for start, end, _ in stage.risk:
        yield from (start, end)
    told = problem.standing
    if told is not None and stage.id in told.visits:
        was, near = told.visits[stage.id], told.tolerance_min
        yield from (was - near, was + near + 1)
        steps = range(30, 600, 60)
        yield from (was - near - step for step in steps)
        yield from (was + near + 1 + step for step in steps)


def _grain_minutes(job: Job, start: int) -> int:
    """Return how many minutes make the finish dearer by a grain, where it could be late."""
    slope = job.finish_cents_per_hour
    if job.promise is not None and start + 600 > job.promise:
        slope += job.late_cents_per_hour
    return max(120, 60 * _GRAIN // max(1, slope))


def _cents(problem: Problem, stage: Stage, day: int, first: int, last: int) -> float:
    """Return the least of risk and of having moved what was told, over the starts of a piece."""
    risk = sum(c for s, e, c in stage.risk if s <= first and last < e)
    if any(c < 0 for _, _, c in stage.risk):
        risk = sum(min(0, c) for _, _, c in stage.risk)
    return risk + moved(problem, stage, day, first, last)


def moved(problem: Problem, stage: Stage, day: int, first: int, last: int) -> float:
    """Return the least cents for starts other than the one told, less what not visiting costs."""
    told = problem.standing
    if told is None or stage.id not in told.visits:
        return 0.0
    was = told.visits[stage.id]
    if problem.day_of(was) != day:
        return 0.0
    off = max(0, first - was, was - last) - told.tolerance_min
    if off <= 0:
        return float(-told.day_cents)
    return told.shift_cents + off * told.shift_cents_per_hour / 60 - told.day_cents


def finish_cents(job: Job, minute: float) -> float:
    """Return what a finish at a minute costs: waiting and lateness."""
    late = 0.0 if job.promise is None else max(0.0, minute - job.promise)
    return (minute * job.finish_cents_per_hour + late * job.late_cents_per_hour) / 60


def held_from(lag: Lag, low: int, high: int) -> int | None:
    """Return the least end plus hold for ends from low to high; None where no such end is allowed."""
    if isinstance(lag, int):
        return low + lag
    held = [
        max(low, since) + minutes
        for since, until, minutes in lag
        if since <= high and until > low
    ]
    return min(held, default=None)


def least(lag: Lag) -> int:
    """Return the shortest a lag can be, in minutes."""
    return lag if isinstance(lag, int) else min((m for _, _, m in lag), default=0)


def most(lags: Iterable[Lag]) -> int:
    """Return the longest these lags can be, in minutes."""
    return max(
        (
            lag if isinstance(lag, int) else max((m for _, _, m in lag), default=0)
            for lag in lags
        ),
        default=0,
    )
