"""When each visit of a plan is on a day that runs over as one in five does; every visit before it counts.

What was told of a day counts as it was: a visit that was late, or takes long, moves those behind it.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from dispatch.actions import begun, one_moment, runs_over
from dispatch.actions.board_reading import Reading
from dispatch.records.models import Stage
from dispatch.trade.buffer import Stop, on_a_late_day
from dispatch.trade.spans import Span

Row = Mapping[str, Any]


@dataclass(frozen=True, kw_only=True)
class _Places:
    """Where each stage of a week problem is done, and the minutes from place to place."""

    of: Mapping[str, str]
    drives: Mapping[str, Mapping[str, int]]

    def drive(self, origin: str, to: str) -> int:
        return self.drives.get(origin, {}).get(to, 0)


def of(reading: Reading) -> Mapping[str, Span]:
    """The late spans of the plan that is read, by the visit's name in the week problem."""
    asked = ("late-days", reading.plan.pk)
    return one_moment.once(asked, lambda: by(reading, reading.van_days))


def by(reading: Reading, van_days: Iterable[Row]) -> dict[str, Span]:
    """The late spans of some van-days of its week."""
    known = runs_over.came_before(reading.jobs)
    places = _places(reading.problem)
    found = {}
    for row in van_days:
        stops = list(_stops(reading, row, known, places))
        late = on_a_late_day(row["depart"], stops)
        for name, (start, end) in zip(_names(row), late, strict=True):
            if name:
                found[name] = reading.span(round(start), round(end))
    return found


def _names(row: Row) -> list[str]:
    return [stop.get("stage", "") for stop in row["stops"]]


def _places(problem: Row) -> _Places:
    keys = [place["id"] for place in problem["places"]]
    return _Places(
        of={stage["id"]: stage["place"] for stage in problem["stages"]},
        drives={
            origin: dict(zip(keys, row, strict=True))
            for origin, row in zip(keys, problem["drive_min"], strict=True)
        },
    )


def _stops(
    reading: Reading, row: Row, known: set[int], places: _Places
) -> Iterator[Stop]:
    """A van-day's stops, each with what lies before it that cannot be made up: the drive, and a break taken there."""
    before, here = row["depart"], ""
    for stop in row["stops"]:
        there = stop.get("from") or places.of.get(stop["stage"], "")
        drive = places.drive(here, there) if here else stop["start"] - before
        rest = row["break"]
        if rest and before <= rest[0] and rest[1] <= stop["start"]:
            drive += rest[1] - rest[0]
        over = _over(reading, row, stop, known)
        yield _told(reading, row, stop, over) or Stop(
            start=stop["start"],
            end=stop["end"],
            before_minutes=min(drive, stop["start"] - before),
            over_minutes=over,
        )
        before, here = stop["end"], stop.get("to") or there


def _told(reading: Reading, row: Row, stop: Row, over: float) -> Stop | None:
    """A visit that was told of that day: from when it was begun, to its end or as long as is thought; None for others.

    What runs over counts from its beginning: who is past it already has no more of it ahead.
    """
    stage = reading.stages.get(stop.get("stage", ""))
    visit = getattr(stage, "visit", None)
    if stage is None or visit is None or stage.state == Stage.State.TO_DO:
        return None
    done = stage.state == Stage.State.DONE
    span = begun.took(visit) if done else begun.takes(visit, reading.now)
    zone, day = reading.line.zone, reading.line.dates[row["day"]]
    if span.start.astimezone(zone).date() != day:
        return None
    start, end = reading.line.minute(span.start), reading.line.minute(span.end)
    planned = (visit.end - visit.start).total_seconds() / 60
    left = 0.0 if done else max(0.0, start + planned + over - end)
    return Stop(start=start, end=end, over_minutes=left, told=True)


def _over(reading: Reading, row: Row, stop: Row, known: set[int]) -> float:
    """By how much the hands of a visit run over; a wait does not, nor does a tow."""
    stage = reading.stages.get(stop.get("stage", ""))
    if stage is None:
        return 0.0
    fit = [int(size) for size in stage.minutes if int(size) <= len(row["team"])]
    hands = stage.minutes[str(max(fit))] if fit else 0
    return float(hands) * (runs_over.late_factor(stage.job, known) - 1)
