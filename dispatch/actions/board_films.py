"""A boat's film on the board: what planned coats will lay, and what is down and has not set, whenever it was laid."""

from collections.abc import Iterable, Iterator
from datetime import datetime

from dispatch.actions import holds
from dispatch.actions.board import Film
from dispatch.actions.board_reading import LONGEST, Reading
from dispatch.records.models import Job, Stage
from dispatch.trade.spans import Span


def of(
    reading: Reading, job: Job, planned: Iterable[tuple[str, Stage, datetime]]
) -> tuple[Film, ...]:
    """The film of a job within the week, in order of time.

    ``planned`` are visits that lay some and are to come or under way: the stage by its name in the week problem, and when it ends.
    """
    made = [
        _film(stage, name, at)
        for name, stage, at in planned
        if _lays(stage) and (at > reading.now or _on(stage) is None)
    ]
    return tuple(sorted((*_down(reading, job), *made), key=lambda film: film.laid_at))


def sets(film: Film) -> datetime | None:
    """When film is as far as its sheet says: sandable, or rain-safe where it is not sanded; None where not known."""
    return film.sandable if film.sands else film.rain_safe


def _down(reading: Reading, job: Job) -> Iterator[Film]:
    """What was laid before the week's end, and had not set before its start."""
    week = reading.horizon
    for name, stage in reading.stages.items():
        laid_at = _on(stage)
        if stage.job_id != job.pk or laid_at is None or not _lays(stage):
            continue
        if laid_at < week.end:
            film = _film(stage, name, laid_at)
            if laid_at >= week.start or _still(film, week):
                yield film


def _on(stage: Stage) -> datetime | None:
    """When the last coat of a stage was on, by what the crew told; None where none is known to be."""
    if stage.state == Stage.State.DONE:
        return stage.ended_at
    told = (row.ended_at for row in stage.laid.all())
    return max(told, default=None)


def _still(film: Film, week: Span) -> bool:
    """Whether film of before the week has not set when it begins; what nobody knows the end of has not, for two weeks."""
    end = film.latest or sets(film)
    return film.laid_at > week.start - LONGEST if end is None else end > week.start


def _lays(stage: Stage) -> bool:
    return stage.sheet is not None and bool(stage.sheet.rain_safe_ref_h)


def _film(stage: Stage, name: str, laid_at: datetime) -> Film:
    """The film of a stage, with the range the forecast leaves."""
    sheet = stage.sheet
    safe_h = sheet.rain_safe_ref_h if sheet else None
    sand_h = sheet.sandable_ref_h if sheet else None
    safe = holds.sets(stage, laid_at, safe_h) if safe_h else None
    sand = holds.sets(stage, laid_at, sand_h) if sand_h else None
    return Film(
        stage=name,
        name=stage.name,
        laid_at=laid_at,
        rain_safe=safe.expected if safe else None,
        sandable=sand.expected if sand else None,
        earliest=sand.earliest if sand else None,
        latest=sand.latest if sand else None,
        sands=sand_h is not None,
        aging=holds.aging(stage),
    )
