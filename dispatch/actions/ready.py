"""GO, WAIT or NO: whether a visit may be started, by what is stored; unknown is never GO."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

from dispatch.actions import (
    comes_first,
    held_for_owner,
    overrides,
    visit_numbers,
    visit_sky,
    windows,
)
from dispatch.records.models import ShutOut, Stage, Visit
from dispatch.trade import rulebook, window
from dispatch.trade.spans import Span
from dispatch.trade.work import Veto

GO, WAIT, NO = "GO", "WAIT", "NO"
_NO_LIMIT = "No limit we know of is broken"
_BUT_OVERRULED = "No limit we know of is broken but what was overruled,"


@dataclass(frozen=True, kw_only=True)
class Ready:
    """One word for a visit, the moment it was asked about, when a wait ends if that is known, and why.

    GO says that no limit we know of is broken. It never says that the work is safe.
    """

    word: str
    at: datetime
    sentence: str
    until: datetime | None = None
    overruled_by: str = ""

    def __post_init__(self) -> None:
        if self.word not in (GO, WAIT, NO):
            raise ValueError(f"The word is GO, WAIT or NO, not {self.word}.")
        if self.until is not None and self.word != WAIT:
            raise ValueError("Only a wait ends.")


def of(visit: Visit, now: datetime) -> Ready:
    """Whether a visit that is not done yet may be started at its hour, or now once its hour has come."""
    return _of(visit, visit_sky.span(visit, now), now)


def at(visit: Visit, start: datetime, now: datetime) -> Ready:
    """Whether a visit that nobody began may be started at another moment than its hour."""
    return _of(visit, Span(start, start + (visit.end - visit.start)), now)


def _of(visit: Visit, asked: Span, now: datetime) -> Ready:
    if visit.stage.state == Stage.State.TO_DO:
        shut_out = held_for_owner.of(visit.stage)
        if shut_out is not None:
            return _shut_out(shut_out, asked, now)
    if visit.stage.state != Stage.State.UNDER_WAY:
        held = comes_first.of(visit.stage, asked.start, now)
        if held is not None:
            return Ready(
                word=NO if held.never else WAIT,
                at=asked.start,
                until=held.until,
                sentence=held.sentence,
            )
    unknown = _unknown(visit.stage, asked, now)
    if unknown:
        return Ready(word=WAIT, at=asked.start, sentence=unknown)
    return _by_the_sky(visit.stage, asked)


def _shut_out(row: ShutOut, asked: Span, now: datetime) -> Ready:
    waits = row.left_at is None and now < row.until
    return Ready(
        word=WAIT,
        at=asked.start,
        until=row.until if waits else None,
        sentence=held_for_owner.said(row, now),
    )


def _unknown(stage: Stage, asked: Span, now: datetime) -> str:
    """Why the sky is not known over a span; empty where it is."""
    gap = visit_sky.unknown(stage, asked, now)
    if gap is None:
        return ""
    known = "Only likely, so not go yet." if gap.likely else "Not known, so not go."
    return f"{known} {gap.why} {gap.then}"


def _by_the_sky(stage: Stage, asked: Span) -> Ready:
    zone = ZoneInfo(stage.job.boat.place.time_zone)
    day, known = _known(stage, asked, zone)
    access = windows.access(stage.job.boat.place, day)
    found = window.may_do(access, known, asked.length)
    broken = rulebook.walls_first(window.judge(asked, known))
    fitting = [one for one in found if _fits(one.span, asked)]
    if not broken and fitting and fitting[0].span.start <= asked.start:
        return _go(fitting[0], asked, zone, overrides.told(stage, asked))
    later = next((max(one.span.start, asked.start) for one in fitting), None)
    said = (
        visit_numbers.sentence(stage, broken[0], asked)
        if broken
        else _shut(stage, access, asked)
    )
    return _not_yet(asked, broken, later, said)


def _known(stage: Stage, asked: Span, zone: ZoneInfo) -> tuple[Span, tuple[Veto, ...]]:
    """The rest of the day with its vetoes; the asked span alone where the rest is not known."""
    day = Span(asked.start, max(asked.end, _midnight(asked.start, zone)))
    whole = windows.against(stage, day)
    return (
        (asked, windows.against(stage, asked) or ()) if whole is None else (day, whole)
    )


def _fits(free: Span, asked: Span) -> bool:
    return free.end - max(free.start, asked.start) >= asked.length


def _go(free: window.Window, asked: Span, zone: ZoneInfo, overruled: str) -> Ready:
    start, end = (
        f"{moment.astimezone(zone):%H:%M}" for moment in (asked.start, asked.end)
    )
    then = f"{free.span.end.astimezone(zone):%H:%M}"
    next_limit = (
        f" From {then}: {free.after.sentence}"
        if free.after
        else f" The place shuts to us at {then}."
    )
    return Ready(
        word=GO,
        at=asked.start,
        sentence=(
            f"{_BUT_OVERRULED if overruled else _NO_LIMIT} from {start} to {end}.{next_limit}"
        ),
    )


def _not_yet(
    asked: Span, broken: Sequence[Veto], later: datetime | None, said: str
) -> Ready:
    until = None if later == asked.start else later
    unknown = bool(broken) and broken[0].code in ("unknown", "old-forecast")
    return Ready(
        word=WAIT if until or unknown else NO,
        at=asked.start,
        until=until,
        sentence=said,
        overruled_by=broken[0].strength if broken else "wall",
    )


def _shut(stage: Stage, access: Sequence[Span], asked: Span) -> str:
    zone = ZoneInfo(stage.job.boat.place.time_zone)
    hours = ", ".join(
        f"{one.start.astimezone(zone):%H:%M} to {one.end.astimezone(zone):%H:%M}"
        for one in access
    )
    place = stage.job.boat.place.name
    start, end = (one.astimezone(zone) for one in (asked.start, asked.end))
    return (
        f"{place} may be worked at {hours} today; {start:%H:%M} to {end:%H:%M} does not fit there."
        if hours
        else f"{place} may not be worked at any more today."
    ) + (f" {rule}" if (rule := windows.shut(stage.job.boat.place, asked)) else "")


def _midnight(moment: datetime, zone: ZoneInfo) -> datetime:
    tomorrow = moment.astimezone(zone).date() + timedelta(days=1)
    return datetime.combine(tomorrow, time(0), tzinfo=zone)
