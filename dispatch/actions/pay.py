"""A week's hours of everybody, by day, as the vans were out and as visits were reported; and what they come to."""

import csv
import io
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from fractions import Fraction
from zoneinfo import ZoneInfo

from dispatch.actions import clock
from dispatch.actions.lists import guarded
from dispatch.records.models import Person, VanDay

_ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, kw_only=True)
class Hours:
    """A person's week: minutes by day, those at the usual pay, those over them at time and a half, and whole cents.

    ``expected`` names days that are not over yet: their minutes are as posted. ``not_reported`` names days gone by
    of which no visit's times were reported: as posted too.
    """

    person: Person
    days: tuple[int, ...]
    regular_minutes: int
    over_minutes: int
    cents: int
    expected: tuple[date, ...]
    not_reported: tuple[date, ...]

    @property
    def minutes(self) -> int:
        """All minutes."""
        return self.regular_minutes + self.over_minutes


def of(monday: date) -> tuple[Hours, ...]:
    """The hours of a week from its Monday, of everybody who was out or works here.

    A day counts from when the van left to when it was back, stretched by visits reported earlier or later, less
    the break. What is over a person's week counts once and a half, as the planner reckons it; local law decides.
    """
    days = [monday + n * _ONE_DAY for n in range(7)]
    out: dict[int, dict[date, list[VanDay]]] = {}
    rows = VanDay.objects.filter(on__in=days).prefetch_related("team", "visits__stage")
    for row in rows:
        for person in row.team.all():
            out.setdefault(person.pk, {}).setdefault(row.on, []).append(row)
    zone = clock.zone()
    people = Person.objects.filter(pk__in=out) | Person.objects.filter(active=True)
    return tuple(
        _hours(person, days, out.get(person.pk, {}), zone)
        for person in people.distinct().order_by("name")
    )


def written(monday: date) -> str:
    """The same as CSV (RFC 4180): hours with two decimals, money with two."""
    out = io.StringIO()
    writer = csv.writer(out)
    days = [monday + n * _ONE_DAY for n in range(7)]
    heads = [f"{day:%a %Y-%m-%d}" for day in days]
    writer.writerow(
        ["Name", *heads, "Hours", "Over the week", "Pay", "As posted, not reported"]
    )
    for row in of(monday):
        posted = sorted({*row.expected, *row.not_reported})
        writer.writerow(
            [
                guarded(row.person.name),
                *(f"{minutes / 60:.2f}" for minutes in row.days),
                f"{row.minutes / 60:.2f}",
                f"{row.over_minutes / 60:.2f}",
                f"{row.cents / 100:.2f}",
                " ".join(day.isoformat() for day in posted),
            ]
        )
    return out.getvalue()


def _hours(
    person: Person, days: list[date], out: dict[date, list[VanDay]], zone: ZoneInfo
) -> Hours:
    minutes = tuple(sum(_out(row, zone) for row in out.get(day, ())) for day in days)
    regular = min(sum(minutes), person.week_regular_minutes)
    over = sum(minutes) - regular
    paid = Fraction(person.cents_per_hour, 60) * (regular + Fraction(3, 2) * over)
    now = clock.now()
    return Hours(
        person=person,
        days=minutes,
        regular_minutes=regular,
        over_minutes=over,
        cents=round(paid),
        expected=tuple(d for d, rows in out.items() if any(r.back > now for r in rows)),
        not_reported=tuple(
            day
            for day, rows in out.items()
            if not any(_reported(rows)) and all(row.back <= now for row in rows)
        ),
    )


def _reported(rows: Iterable[VanDay]) -> list[datetime]:
    """The moments that were reported of some van-days' visits."""
    stages = [visit.stage for row in rows for visit in row.visits.all()]
    found = [at for one in stages for at in (one.started_at, one.ended_at)]
    return [at for at in found if at is not None]


def _out(row: VanDay, zone: ZoneInfo) -> int:
    """Minutes a van's team was out, less the break; a report of another day is not of this one."""
    told = [at for at in _reported([row]) if at.astimezone(zone).date() == row.on]
    start, end = min([row.depart, *told]), max([row.back, *told])
    rest = (
        row.break_end - row.break_start
        if row.break_start and row.break_end
        else timedelta(0)
    )
    return round((end - start - rest) / timedelta(minutes=1))
