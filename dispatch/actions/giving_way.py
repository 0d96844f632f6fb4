"""Which boats of a plan give way first when a day is lost, and why; nothing is moved or told by it."""

from collections.abc import Iterator
from datetime import timedelta

from dispatch.actions import board_strips, boat_strip, took
from dispatch.actions.board_reading import Reading
from dispatch.records.models import Job, Stage
from dispatch.trade import bumping
from dispatch.trade.bumping import Boat, Ranked


def order(reading: Reading) -> tuple[tuple[Job, Ranked], ...]:
    """Jobs with visits still to come, the first to give way first."""
    visits = board_strips.visits(reading)
    ahead = {
        job.key: job
        for job in reading.jobs
        if any(not one.done and one.span.start > reading.now for one in visits[job.key])
    }
    ranked = bumping.order(_boat(reading, job) for job in ahead.values())
    return tuple((ahead[one.key], one) for one in ranked)


def _boat(reading: Reading, job: Job) -> Boat:
    stages = boat_strip.of_ways_taken(list(reading.stages_of(job)))
    laid = {stage.state == Stage.State.DONE for stage in _sprayed(stages)}
    days = (
        (job.promised_by - reading.now) / timedelta(days=1)
        if job.promise == Job.Promise.HARD and job.promised_by
        else None
    )
    return Boat(
        key=job.key,
        wet=any(boat_strip.wet(stage, reading.now) for stage in stages),
        half_sprayed=laid == {True, False},
        hard_in_days=days,
        bumped=job.bumped,
        blocks_yard=job.fixed_start is not None,
        bumped_first=job.kind.bumped_first,
        cents_per_labour_hour=_worth(job, stages),
    )


def _sprayed(stages: list[Stage]) -> Iterator[Stage]:
    return (one for one in stages if one.family == "spray" and not one.laid_anew_by_id)


def _worth(job: Job, stages: list[Stage]) -> float:
    minutes = sum(took.labour(stage) for stage in stages)
    return job.price_cents / (minutes / 60) if minutes else 0.0
