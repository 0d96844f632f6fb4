"""Snags of visits that are done and took longer than was planned, while there is work on that boat left."""

from collections.abc import Iterator
from datetime import timedelta

from dispatch.actions import board_strips, board_words, overran, overran_offers
from dispatch.actions.board import Snag
from dispatch.actions.board_reading import Reading
from dispatch.actions.board_strips import Visit
from dispatch.actions.overran import Over
from dispatch.records.models import WeekPlan

_SHOWN_FOR = timedelta(hours=24)


def of(reading: Reading) -> Iterator[Snag]:
    """One snag a boat of a standing week, of the last visit that overran since that was posted."""
    if reading.plan.state != WeekPlan.State.STANDING:
        return
    for visits in board_strips.visits(reading).values():
        rows = ((one, over) for one in visits if (over := _over(reading, one)))
        last = max(rows, key=lambda row: row[0].span.start, default=None)
        if last is not None:
            yield from _snag(reading, *last)


def _over(reading: Reading, visit: Visit) -> Over | None:
    """By how much a visit that was done of late overran what is posted; one under way is told where it is in the way."""
    ended, posted = visit.stage.ended_at, reading.plan.posted_at
    if not visit.done or ended is None or not hasattr(visit.stage, "visit"):
        return None
    if ended < reading.now - _SHOWN_FOR or (posted and ended <= posted):
        return None
    planned = _planned(reading, visit.name)
    return overran.of(visit.stage, planned, reading.now) if planned else None


def _planned(reading: Reading, name: str) -> int:
    """The minutes the posted plan has a visit for, however late its end was told to be since; 0 where it has none."""
    stops = (stop for row in reading.van_days for stop in row["stops"])
    return next((s["end"] - s["start"] for s in stops if s.get("stage") == name), 0)


def _snag(reading: Reading, visit: Visit, over: Over) -> Iterator[Snag]:
    left = overran_offers.to_come(reading, visit.stage.job)
    if not left:
        return
    zone, then = reading.line.zone, left[0]
    planned, real, more = (
        board_words.lasting(one)
        for one in (over.planned_minutes, over.minutes, over.over_minutes)
    )
    yield Snag(
        weight=59,
        subject=visit.stage.job.boat.name,
        sentence=(
            f"“{visit.stage.name}” took {real} instead of {planned}, {more} over. Next is “{then.stage.name}” "
            f"{board_words.between(then.span, zone)}."
        ),
        mend="Plan the rest anew, or choose one of these.",
        setting="board",
        anew=True,
        about=f"over:{visit.name}",
        offers=overran_offers.of(
            reading, visit.stage, visit.span.end.astimezone(zone).date()
        ),
    )
