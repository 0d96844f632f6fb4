"""Snags of a week that stands: who or what it counts on is not there, and work that runs over."""

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from dispatch.actions import begun, late_days, overran_offers
from dispatch.actions.board import Snag
from dispatch.actions.board_reading import Reading, Row
from dispatch.actions.board_words import lasting, when
from dispatch.actions.priced import Offer
from dispatch.actions.snapshot_stages import key
from dispatch.records.models import DayOff, Stage, Van, VanOff, Visit, WeekPlan

_ANEW = "Plan the rest anew."
_SPARE = timedelta(minutes=5)


def of(reading: Reading) -> Iterator[Snag]:
    """What makes a standing week impossible from now on, each with its numbers."""
    if reading.plan.state != WeekPlan.State.STANDING:
        return
    yield from _away(reading)
    yield from _off(reading)
    yield from _over(reading)


def _ahead(reading: Reading) -> Iterator[tuple[date, Row]]:
    """The van-days that are not over, with their dates."""
    for row in reading.van_days:
        if reading.line.moment(row["back"]) > reading.now:
            yield reading.line.dates[row["day"]], row


def _away(reading: Reading) -> Iterator[Snag]:
    off = {
        (row.person.key, row.on): row
        for row in DayOff.objects.filter(on__in=reading.line.dates).select_related(
            "person"
        )
    }
    for on, row in _ahead(reading):
        for person in row["team"]:
            gone = off.get((person, on))
            if gone is not None and not _there(reading, gone, row):
                why = f" ({gone.reason})" if gone.reason else ""
                yield Snag(
                    weight=99,
                    subject=reading.name(person),
                    sentence=f"Away {on:%A}{why}, and the week that stands has them out with {_van(row)} that day.",
                    mend=_ANEW,
                    anew=True,
                    about=f"away:{person}:{row['day']}",
                )


def _there(reading: Reading, gone: DayOff, row: Row) -> bool:
    """Whether the hours they are there hold the whole day of the van."""
    if gone.start is None or gone.end is None:
        return False
    first, last = (reading.line.at(gone.on, edge) for edge in (gone.start, gone.end))
    return bool(first <= row["depart"] and row["back"] <= last)


def _van(row: Row) -> str:
    names = Van.objects.filter(key=row["van"]).values_list("name", flat=True)
    return names.first() or str(row["van"])


def _off(reading: Reading) -> Iterator[Snag]:
    off = set(
        VanOff.objects.filter(on__in=reading.line.dates).values_list("van__key", "on")
    )
    for on, row in _ahead(reading):
        if (row["van"], on) in off:
            yield Snag(
                weight=99,
                subject=_van(row),
                sentence=f"Off the road {on:%A}, and the week that stands sends it out that day.",
                mend=_ANEW,
                anew=True,
            )


def _over(reading: Reading) -> Iterator[Snag]:
    """Work under way that ends after what its team is to begin next."""
    rows = Visit.objects.filter(
        van_day__plan=reading.plan, stage__state=Stage.State.UNDER_WAY
    ).select_related("stage__job__boat", "van_day")
    for visit in rows:
        ends = begun.takes(visit, reading.now).end
        after = (
            Visit.objects.filter(
                van_day=visit.van_day,
                start__gt=visit.start,
                stage__state=Stage.State.TO_DO,
            )
            .select_related("stage__job__boat")
            .first()
        )
        if after is None:
            continue
        # One that keeps to its hours is not in the way; one that does not may run on as one in five does.
        one_in_five = late_days.of(reading).get(key(visit.stage))
        latest = one_in_five.end if one_in_five and ends > visit.end else ends
        if max(ends, latest) > after.start + _SPARE:
            late = (max(ends, latest) - after.start).total_seconds() / 60
            zone = reading.line.zone
            yield Snag(
                weight=96,
                subject=visit.stage.job.boat.name,
                sentence=f"“{visit.stage.name}” takes until {when(ends, zone)}{_or_later(ends, latest, zone)}; “{after.stage.name}” on {after.stage.job.boat.name} is to begin {when(after.start, zone)}, {lasting(late)} sooner.",
                mend=_ANEW,
                anew=True,
                about=f"over:{key(visit.stage)}",
                offers=_offers(reading, visit),
            )


def _offers(reading: Reading, visit: Visit) -> tuple[Offer, ...]:
    """What else may be done about the rest of that boat's day."""
    stage = reading.stages.get(key(visit.stage))
    return overran_offers.of(reading, stage, visit.van_day.on) if stage else ()


def _or_later(ends: datetime, latest: datetime, zone: ZoneInfo) -> str:
    if latest <= ends:
        return ""
    return f", or {when(latest, zone)} if it runs over as one in five does"
