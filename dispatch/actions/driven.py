"""Drives learnt from the crew's own reports: from the end of one visit to the start of the next."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import timedelta
from itertools import pairwise

from dispatch.actions import load_out, rates
from dispatch.planner import travel
from dispatch.records.models import Place, Stage, VanDay, Visit
from dispatch.trade import learning
from dispatch.trade.spans import Span, intersect

# Fewer say nothing yet; of more the newest count. Assumptions.
LEAST_DRIVES, _NEWEST = 3, 15
# Who waits on purpose teaches nothing of the road.
_MOST_SLACK = timedelta(minutes=10)
_MINUTE = timedelta(minutes=1)


@dataclass(frozen=True, kw_only=True)
class Driven:
    """One drive as reports have it: ``minutes`` learnt beside those ``reckoned`` by distance, from ``count`` drives.

    ``counts`` is false while there are too few of them.
    """

    origin: Place
    destination: Place
    minutes: int
    reckoned: int
    metres: int
    count: int

    @property
    def counts(self) -> bool:
        """Whether there are enough of them to plan by."""
        return self.count >= LEAST_DRIVES


def learnt() -> tuple[Driven, ...]:
    """Every drive that reports tell of, by the names of its ends.

    The ratio of driven to reckoned minutes is an exponentially weighted median, from 0.6 to 2, so that one bad
    day moves little. Left out are drives with a trailer, and those with waiting or a break between the visits.
    """
    samples: dict[tuple[int, int], list[float]] = {}
    ends: dict[tuple[int, int], tuple[Place, Place]] = {}
    for first, then, minutes in _gaps():
        a, b = _place(first), _place(then)
        key = (a.pk, b.pk)
        ends[key] = (a, b)
        samples.setdefault(key, []).append(minutes)
    found = (_driven(*ends[key], samples[key][:_NEWEST]) for key in samples)
    return tuple(sorted(found, key=lambda one: (str(one.origin), str(one.destination))))


def _driven(a: Place, b: Place, newest_first: Sequence[float]) -> Driven:
    reckoned, metres = _reckoned(a, b)
    ratio = learning.ratio([minutes / reckoned for minutes in newest_first])
    return Driven(
        origin=a,
        destination=b,
        minutes=math.ceil(reckoned * (ratio or 1.0)),
        reckoned=reckoned,
        metres=metres,
        count=len(newest_first),
    )


def _gaps() -> Iterator[tuple[Visit, Visit, float]]:
    """Two visits one after the other and the minutes driven between them, the newest first."""
    days = VanDay.objects.filter(
        visits__stage__state=Stage.State.DONE, visits__stage__started_at__isnull=False
    ).distinct()
    for day in days.order_by("-on", "-depart"):
        rows = day.visits.select_related("stage__job__boat__place").order_by("start")
        for first, then in pairwise(rows):
            minutes = _minutes(day, first, then)
            if minutes is not None:
                yield first, then, minutes


def _minutes(day: VanDay, first: Visit, then: Visit) -> float | None:
    """Minutes on the road between two visits, without signing in and packing up; None where the reports do not tell."""
    left, came = first.stage.ended_at, then.stage.started_at
    a, b = _place(first), _place(then)
    if left is None or came is None or came <= left or a.pk == b.pk:
        return None
    reckoned, _ = _reckoned(a, b)
    beside = b.sign_in_minutes + load_out.minutes(a, b)
    there = timedelta(minutes=reckoned + beside)
    planned = Span(first.end, then.start) if then.start > first.end else None
    if planned is None or planned.length - there > _MOST_SLACK:
        return None
    if _rests(day, planned) or day.tows.filter(
        start__lt=planned.end, end__gt=planned.start
    ):
        return None
    driven = (came - left) / _MINUTE - beside
    return driven if driven > 0 else None


def _rests(day: VanDay, planned: Span) -> bool:
    if not day.break_start or not day.break_end:
        return False
    return bool(intersect((Span(day.break_start, day.break_end),), (planned,)))


def _reckoned(a: Place, b: Place) -> tuple[int, int]:
    return travel.drive(a.latitude, a.longitude, b.latitude, b.longitude, rates.roads())


def _place(visit: Visit) -> Place:
    return visit.stage.job.boat.place
