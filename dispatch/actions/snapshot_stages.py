"""Stages as a week problem has them: windows from the sky, lags from the cure clock."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from dispatch.actions import (
    clock,
    facts,
    not_turned,
    rates,
    runs_over,
    snapshot_barred,
    snapshot_hoods,
    snapshot_risk,
    visit_waits,
    windows,
)
from dispatch.actions.cures import Cures
from dispatch.actions.snapshot_open import Open
from dispatch.actions.timeline import Timeline
from dispatch.records.models import Person, Pin, Stage, StageLink
from dispatch.trade.spans import Span, intersect

Row = dict[str, Any]
Lag = int | list[list[int]]


@dataclass(frozen=True, kw_only=True)
class _Week:
    """What every stage of one snapshot is read against."""

    line: Timeline
    found: Open
    open_keys: set[int]
    hands: tuple[Person, ...]
    cures: Cures
    known: set[int]


def of(line: Timeline, found: Open) -> list[Row]:
    """Every open stage; what waits for a stage done before, or in another week, waits by its windows."""
    week = _Week(
        line=line,
        found=found,
        open_keys={stage.pk for stage in found.stages},
        hands=tuple(Person.objects.filter(active=True).prefetch_related("skills")),
        cures=Cures(),
        known=runs_over.came_before(stage.job for stage in found.stages),
    )
    return [_stage(week, stage) for stage in found.stages]


def key(stage: Stage) -> str:
    """A stage's name in a week problem."""
    return f"{stage.job.key}.{stage.key}"


def _stage(week: _Week, stage: Stage) -> Row:
    line, cures, open_keys = week.line, week.cures, week.open_keys
    links = [
        link for link in stage.links.all() if link.before_id not in week.found.forgone
    ]
    ahead = Span(max(line.horizon.start, clock.now()), line.horizon.end)
    found = windows.of(stage, ahead)
    spans = [one.span for one in found]
    spans = list(intersect(spans, not_turned.after_film(stage, ahead)))
    hull_c = facts.planned_c(stage, visit_waits.when(stage, spans))
    hot = facts.planned_hot(stage, spans)
    own = visit_waits.minutes(stage, hull_c, hot=hot)
    gone = [link for link in links if link.before_id not in open_keys]
    for link in gone:
        spans = list(intersect(spans, _after_gone(week, link, ahead)))
    left = snapshot_barred.of(line, week.hands, stage, spans)
    return {
        "id": key(stage),
        "job": stage.job.key,
        "variant": stage.variant or None,
        "extra": stage.extra,
        "exposed": stage.cover != Stage.Cover.ROOF and stage.family != "inside",
        "place": stage.job.boat.place.key,
        "minutes": own,
        # For the reader: what of it is no hands on.
        "waits": {size: took - stage.minutes[size] for size, took in own.items()},
        "needs": stage.needs,
        "barred": left.barred,
        "gear": stage.gear,
        "supplies": snapshot_hoods.takes(stage, max(own.values())),
        "windows": _windows(line, stage, left.spans, max(own.values())),
        "risk": []
        if stage.fixed_start
        else list(snapshot_risk.of(line, stage, own, found, week.known)),
        "pausable": stage.pausable,
        "trailers": [
            {
                "kind": row["kind"],
                "stays_min": _rain_safe(line, cures, stage)
                if row["until"] == "rain-safe"
                else 0,
            }
            for row in stage.equipment
        ],
        "after": [
            _after(line, cures, link) for link in links if link.before_id in open_keys
        ],
        "hold_min": _hold(line, cures, stage),
        "drop_cents": round(rates.planning().extra_cents)
        if stage.extra
        else stage.drop_cents,
        "pinned": _pinned(line, stage),
    }


def _windows(
    line: Timeline, stage: Stage, spans: Iterable[Span], longest: int
) -> list[list[int]]:
    pieces = [
        [line.minute(span.start + timedelta(seconds=59)), line.minute(span.end)]
        for span in spans
    ]
    if stage.fixed_start is not None:
        start = line.minute(stage.fixed_start)
        return (
            [[start, start + longest]]
            if any(s <= start and start + longest <= e for s, e in pieces)
            else []
        )
    return pieces + _pin_window(line, stage, pieces, longest)


def _pin_window(
    line: Timeline, stage: Stage, pieces: list[list[int]], longest: int
) -> list[list[int]]:
    """The span of a pin that the sky has since forbidden, its waits and a break with it: it stays where the owner put it, and shows as foul."""
    pin = _pin(stage)
    if pin is None:
        return []
    rest = round(rates.day().break_minutes) if stage.pausable else 0
    start = line.minute(pin.start)
    span = [start, start + longest + rest]
    return [] if any(s <= span[0] and span[1] <= e for s, e in pieces) else [span]


def _after_gone(week: _Week, link: StageLink, ahead: Span) -> list[Span]:
    """The part of the week after a stage done before, or due in another week, once what it laid has set."""
    ended = link.before.ended_at or week.found.ends.get(link.before_id)
    if ended is None:
        return []
    table = _lag(week.cures, link, Span(ended, ended + timedelta(minutes=1)))
    wait = table if isinstance(table, int) else table[0][2]
    ready = max(ahead.start, ended + timedelta(minutes=wait))
    return [Span(ready, ahead.end)] if ready < ahead.end else []


def _after(line: Timeline, cures: Cures, link: StageLink) -> Row:
    return {
        "stage": key(link.before),
        "min_lag": _lag(cures, link, line.horizon),
        "max_lag": link.max_minutes,
        "same_van_day": link.same_van_day,
    }


def _lag(cures: Cures, link: StageLink, span: Span) -> Lag:
    if link.min_ref_h is None or link.cure_min_c is None:
        return link.min_minutes
    return cures.table(link.before, span, link.min_ref_h, link.cure_min_c)


def _rain_safe(line: Timeline, cures: Cures, stage: Stage) -> Lag:
    if stage.sheet is None or stage.sheet.rain_safe_ref_h is None:
        return 0
    return cures.table(
        stage, line.horizon, stage.sheet.rain_safe_ref_h, stage.sheet.cure_min_c
    )


def _hold(line: Timeline, cures: Cures, stage: Stage) -> Lag:
    """Wiped-on coats end a job only when they are dry."""
    return (
        _rain_safe(line, cures, stage)
        if stage.family == "wipe-on" and stage.sheet
        else 0
    )


def _pinned(line: Timeline, stage: Stage) -> Row | None:
    pin = _pin(stage)
    return (
        None if pin is None else {"van": pin.van.key, "start": line.minute(pin.start)}
    )


def _pin(stage: Stage) -> Pin | None:
    """What a stage is made fast to; an hour that has gone by holds nothing any more, and shows on the board."""
    pin: Pin | None = getattr(stage, "pin", None)
    return pin if pin is not None and pin.start >= clock.now() else None
