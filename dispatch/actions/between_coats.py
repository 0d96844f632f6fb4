"""How long the second coat waits for the first at the hour's own warmth, and visits planned shorter than that."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from dispatch.actions import board_strips, clock, facts, rates, visit_waits
from dispatch.actions.board import Snag
from dispatch.actions.board_reading import Reading
from dispatch.actions.board_strips import Visit
from dispatch.actions.board_words import when
from dispatch.records.models import Stage
from dispatch.trade import cure, samples
from dispatch.trade.spans import Span
from dispatch.trade.words import Words

# Plans are in steps of five minutes.
_LEAST = 5
_LATER = "See that her shade and the place's hours last that long, or put her later in the day."
_NOT_KEPT = "planned not known: the week was built before that was kept, so when she is done is not known either."
_ANEW = "Plan the rest anew: a new plan counts the wait. Till then see that her shade and the place's hours last that long."


@dataclass(frozen=True, kw_only=True)
class Wait:
    """Minutes between two coats, at the coldest of the hull in the hours of a visit in which they may lie (Celsius)."""

    minutes: float
    coldest_c: float


def wait(stage: Stage, span: Span) -> Wait | None:
    """The wait of a stage done over a span, by its sheet; None where it has none or the warmth is not known."""
    if not stage.flashes or stage.sheet is None:
        return None
    (span,) = visit_waits.when(stage, (span,))
    known = facts.sky_of(facts.latest_forecast(stage.job.boat.place, clock.now()), span)
    surface = (
        samples.surface(facts.work(stage, span, rates.limits()), known)
        if known
        else None
    )
    coldest = _coldest(surface, span) if surface else None
    if coldest is None:
        return None
    minutes = cure.flash_minutes(stage.sheet.flash_ref_minutes, coldest)
    return Wait(minutes=minutes, coldest_c=coldest)


def _coldest(surface: cure.Surface, span: Span) -> float | None:
    """The coldest hour that touches a span; None where one of them is not known."""
    first = math.floor(_hours(surface, span.start))
    last = math.ceil(_hours(surface, span.end))
    if first < 0 or last > len(surface.hourly_c):
        return None
    found = min(surface.hourly_c[first:last], default=-math.inf)
    return found if math.isfinite(found) else None


def _hours(surface: cure.Surface, moment: datetime) -> float:
    return (moment - surface.start) / timedelta(hours=1)


def lines(stage: Stage, span: Span, words: Words) -> Iterator[str]:
    """What the crew is told of the wait between the coats of a visit; nothing where it lays one coat."""
    if not stage.flashes or stage.sheet is None:
        return
    by_sheet = f"{stage.sheet.flash_ref_minutes:.0f} min at {words.degrees(cure.REFERENCE_C)} by the sheet of {stage.sheet}"
    found = wait(stage, span)
    if found is None:
        yield f"Wait between the coats: not known for the hour, as its warmth is not; {by_sheet}. The sheet and the film itself decide."
        return
    yield (
        f"Wait {found.minutes:.0f} min between the coats at {words.degrees(found.coldest_c)}, the coldest of the visit's hull "
        f"({by_sheet}; from 15 to 60). The sheet and the film itself decide."
    )


def snags(reading: Reading) -> Iterator[Snag]:
    """Visits still to come that wait longer between their coats than they were planned with."""
    for rows in board_strips.visits(reading).values():
        for visit in rows:
            if not visit.done and visit.span.start >= reading.now:
                yield from _too_short(reading, visit)


def _planned(reading: Reading, visit: Visit) -> float | None:
    """Minutes between the coats that the week was built with; None where it was built before weeks kept them."""
    rows = reading.problem.get("stages", ())
    row = next((row for row in rows if row["id"] == visit.name), None)
    waits = row.get("waits") if row else None
    return float(max(waits.values())) / visit.stage.flashes if waits else None


def _too_short(reading: Reading, visit: Visit) -> Iterator[Snag]:
    stage, found = visit.stage, wait(visit.stage, visit.span)
    if found is None:
        return
    planned, at = _planned(reading, visit), reading.words.degrees(found.coldest_c)
    begins = f"“{stage.name}” {when(visit.span.start, reading.line.zone)}: at {at} the coats wait {found.minutes:.0f} min"
    if planned is None:
        yield _snag(visit, f"{begins}, {_NOT_KEPT}", _ANEW)
        return
    more = stage.flashes * (found.minutes - planned)
    if more >= _LEAST:
        ends = when(visit.span.end + timedelta(minutes=more), reading.line.zone)
        late = f"planned {planned:.0f}. She is done {ends}, {more:.0f} min later than planned."
        yield _snag(visit, f"{begins}, {late}", _LATER)


def _snag(visit: Visit, sentence: str, mend: str) -> Snag:
    return Snag(
        weight=52,
        subject=visit.stage.job.boat.name,
        stage=visit.name,
        sentence=sentence,
        mend=mend,
        setting="sky",
    )
