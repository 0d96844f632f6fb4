"""Which way to turn a boat, so that both her sides have shade for a whole coat."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from itertools import permutations

from dispatch.trade import shade
from dispatch.trade.shade import Hull
from dispatch.trade.sky import Site
from dispatch.trade.spans import Span, intersect

# Nobody sets a trailer down closer than this.
_STEP_DEG = 5
_MINUTE = timedelta(minutes=1)


@dataclass(frozen=True, kw_only=True)
class Coats:
    """What a heading must leave room for: minutes in shade by panel, and minutes of shade before the first coat."""

    slot_minutes: Mapping[str, int]
    rest_minutes: float
    flare_deg: float

    def __post_init__(self) -> None:
        if not self.slot_minutes or min(self.slot_minutes.values()) <= 0:
            raise ValueError("A heading is sought for coats that last.")


@dataclass(frozen=True, kw_only=True)
class Lie:
    """What one heading leaves, over some days: moments and minutes, the clouds left out.

    ``whole_days`` counts the days on which every panel is done one after the other; ``panel_days`` every panel
    on every day; ``start_minutes`` is how long the panel that has least of it may be begun, all days together;
    ``done_minutes`` runs from the first hour of each whole day to the end of its last coat.
    """

    heading_true_deg: float
    whole_days: int
    panel_days: int
    start_minutes: int
    done_minutes: tuple[int | None, ...]
    first: Mapping[str, Span] = field(default_factory=dict)

    @property
    def worth(self) -> tuple[int, int, int]:
        """What headings are compared by."""
        return self.whole_days, self.panel_days, self.start_minutes

    def waits_less_minutes(self, other: "Lie") -> int:
        """By how many minutes its longest saved day ends sooner than the same day by another heading."""
        saved = [
            theirs - ours
            for ours, theirs in zip(self.done_minutes, other.done_minutes, strict=True)
            if ours is not None and theirs is not None
        ]
        return max(saved, default=0)


def lie(site: Site, heading_true_deg: float, coats: Coats, days: Sequence[Span]) -> Lie:
    """What a heading leaves for coats in the hours of some days, each a span of one day at the site.

    Common practice: the whole slot lies in shade, after the hull has rested out of the sun.
    """
    hull = Hull(heading_true_deg=heading_true_deg, flare_deg=coats.flare_deg)
    by_day = [_starts(site, hull, coats, day) for day in days]
    done = tuple(
        _done(day, coats, found) for day, found in zip(days, by_day, strict=True)
    )
    least = min(
        sum(_minutes(found[panel]) for found in by_day) for panel in coats.slot_minutes
    )
    return Lie(
        heading_true_deg=heading_true_deg,
        whole_days=sum(minutes is not None for minutes in done),
        panel_days=sum(bool(spans) for found in by_day for spans in found.values()),
        start_minutes=least,
        done_minutes=done,
        first=_first(by_day),
    )


def best(site: Site, coats: Coats, days: Sequence[Span]) -> Lie:
    """The heading, in steps of 5 degrees, that leaves most: whole days first, then panels, then time to begin."""
    found = (lie(site, float(deg), coats, days) for deg in range(0, 360, _STEP_DEG))
    return max(found, key=lambda one: one.worth)


def is_worth(turned: Lie, lying: Lie | None, least_minutes: float) -> bool:
    """Whether a turn pays: a day more on which everything is done, or longer saved than the least worth it."""
    if lying is None:
        return turned.panel_days > 0
    if turned.worth[:2] > lying.worth[:2]:
        return True
    return turned.waits_less_minutes(lying) > least_minutes


def _starts(
    site: Site, hull: Hull, coats: Coats, day: Span
) -> dict[str, tuple[Span, ...]]:
    """By panel, the spans in which its coat may be begun; one that ends where it begins is a single moment."""
    rest = timedelta(minutes=coats.rest_minutes)
    around = Span(day.start - rest, day.end)
    shades = shade.panel_shades(site, hull, coats.slot_minutes, around)
    return {
        panel: tuple(_begin(_rested(spans, rest), day, coats.slot_minutes[panel]))
        for panel, spans in shades.items()
    }


def _rested(spans: Iterable[Span], rest: timedelta) -> list[Span]:
    """Shade less the rest a hull needs first where the sun was on it."""
    return [Span(span.start + rest, span.end) for span in spans if span.length > rest]


def _begin(free: Iterable[Span], day: Span, slot_minutes: int) -> Iterable[Span]:
    slot = timedelta(minutes=slot_minutes)
    for span in intersect(free, (day,)):
        if span.length >= slot:
            yield Span(span.start, span.end - slot + _MINUTE)


def _minutes(spans: Iterable[Span]) -> int:
    return sum(round(span.length / _MINUTE) for span in spans)


def _done(day: Span, coats: Coats, found: Mapping[str, Sequence[Span]]) -> int | None:
    """Minutes from the day's first hour until every panel is coated, in the quickest order; None where it is not."""
    ends = [
        end
        for order in permutations(coats.slot_minutes)
        if (end := _in_order(order, day.start, coats, found)) is not None
    ]
    return round((min(ends) - day.start) / _MINUTE) if ends else None


def _in_order(
    order: Sequence[str],
    start: datetime,
    coats: Coats,
    found: Mapping[str, Sequence[Span]],
) -> datetime | None:
    now = start
    for panel in order:
        begins = [max(now, span.start) for span in found[panel] if now < span.end]
        if not begins:
            return None
        now = min(begins) + timedelta(minutes=coats.slot_minutes[panel])
    return now


def _first(by_day: Sequence[Mapping[str, Sequence[Span]]]) -> dict[str, Span]:
    """The longest span to begin each panel in, on the first day that has every panel; else the first of each."""
    whole = next((found for found in by_day if all(found.values())), None)
    days = [whole] if whole else by_day
    return {
        panel: max(found[panel], key=lambda span: span.length)
        for found in reversed(days)
        for panel in found
        if found[panel]
    }
