"""Spans of time, half-open: cut, join, intersect."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta


@dataclass(frozen=True, order=True)
class Span:
    """[start, end) between two aware moments, kept in UTC, where lengths are elapsed time.

    Raises:
        ValueError: a moment is naive, or the span would not last.
    """

    start: datetime
    end: datetime

    def __post_init__(self) -> None:
        if self.start.tzinfo is None or self.end.tzinfo is None:
            raise ValueError("A span needs moments with a time zone.")
        # Two moments of one local zone subtract as wall time, an hour wrong over a clock change.
        object.__setattr__(self, "start", self.start.astimezone(UTC))
        object.__setattr__(self, "end", self.end.astimezone(UTC))
        if self.start >= self.end:
            raise ValueError(
                f"A span must end after it starts, not {self.start} to {self.end}."
            )

    @property
    def length(self) -> timedelta:
        """How long it lasts in elapsed time."""
        return self.end - self.start

    def holds(self, moment: datetime) -> bool:
        """Whether a moment lies in it."""
        return self.start <= moment < self.end


def normal(spans: Iterable[Span]) -> tuple[Span, ...]:
    """Sorted, disjoint and never touching."""
    out: list[Span] = []
    for span in sorted(spans):
        if out and span.start <= out[-1].end:
            out[-1] = Span(out[-1].start, max(out[-1].end, span.end))
        else:
            out.append(span)
    return tuple(out)


def union(left: Iterable[Span], right: Iterable[Span]) -> tuple[Span, ...]:
    """The moments in either."""
    return normal((*left, *right))


def intersect(left: Iterable[Span], right: Iterable[Span]) -> tuple[Span, ...]:
    """The moments in both."""
    others = normal(right)
    cut = (
        Span(max(a.start, b.start), min(a.end, b.end))
        for a in normal(left)
        for b in others
        if max(a.start, b.start) < min(a.end, b.end)
    )
    return normal(cut)


def subtract(left: Iterable[Span], right: Iterable[Span]) -> tuple[Span, ...]:
    """The moments of the first that are in none of the second."""
    out = list(normal(left))
    for hole in normal(right):
        out = [piece for span in out for piece in _without(span, hole)]
    return tuple(out)


def at_least(spans: Iterable[Span], length: timedelta) -> tuple[Span, ...]:
    """The spans that last at least so long."""
    return tuple(span for span in spans if span.length >= length)


def _without(span: Span, hole: Span) -> Iterable[Span]:
    if hole.end <= span.start or span.end <= hole.start:
        yield span
        return
    if span.start < hole.start:
        yield Span(span.start, hole.start)
    if hole.end < span.end:
        yield Span(hole.end, span.end)
