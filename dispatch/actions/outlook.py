"""The week ahead in words: for each boat, when each stage may be done, and what stands against it."""

from collections.abc import Iterator
from datetime import timedelta
from zoneinfo import ZoneInfo

from dispatch.actions import clock, facts, windows
from dispatch.records.models import Stage
from dispatch.trade.spans import Span

_DAYS = 7
_MOST_WINDOWS = 4


def lines() -> Iterator[str]:
    """One heading a job, then one line a stage: its first windows, or why it has none."""
    span = Span(clock.now(), clock.now() + timedelta(days=_DAYS))
    last = None
    for stage in facts.open_stages():
        if stage.job_id != last:
            boat = stage.job.boat
            yield f"{boat.name}: {stage.job.kind.name}, {boat.place.name}"
            last = stage.job_id
        yield f"  {stage.name}{f' ({stage.variant})' if stage.variant else ''}: {_says(stage, span)}"


def _says(stage: Stage, span: Span) -> str:
    found = windows.of(stage, span)
    if not found:
        return f"not this week: {why(stage)}"
    zone = ZoneInfo(stage.job.boat.place.time_zone)
    shown = [
        f"{w.span.start.astimezone(zone):%a %H:%M}-{w.span.end.astimezone(zone):%H:%M}"
        for w in found
    ]
    more = len(shown) - _MOST_WINDOWS
    return ", ".join(shown[:_MOST_WINDOWS]) + (f" and {more} more" if more > 0 else "")


def why(stage: Stage) -> str:
    """The reason that stands against most of the week, or that nobody has judged it."""
    fault = stage.judged.exclude(fault="").values_list("fault", flat=True).first()
    if fault or not stage.judged.exists():
        return fault or "not judged yet, so unknown"
    longest = max(
        stage.vetoes.all(), key=lambda veto: veto.end - veto.start, default=None
    )
    return (
        longest.sentence
        if longest
        else f"no hours at {stage.job.boat.place.name} are long enough"
    )
