"""Which boat a crew could begin instead, when it cannot get to the one it is at."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from dispatch.actions import ready, snapshot_gear
from dispatch.actions.ready import Ready
from dispatch.records.models import Place, Stage, Visit

_MOST = 2


@dataclass(frozen=True, kw_only=True)
class Near:
    """A visit later on the route that could be begun once the van is there: how far, from when, planned for when, and what is known."""

    boat: str
    stage_name: str
    place: str
    drive_minutes: int
    begins: datetime
    planned: datetime
    sentence: str


def near(visit: Visit, now: datetime) -> tuple[Near, ...]:
    """The nearest such visits of the same van and day, the nearest first; none of which sky, film or place say no or nothing.

    A visit at the very same place is none: the gate is shut to all of it. Nor is one that is held to a minute, or that
    the van is to bring something to first.
    """
    here = visit.stage.job.boat.place
    others = list(_others(visit, now))
    minutes = _minutes(here, [one.stage.job.boat.place for one in others])
    found = [
        _near(one, now, drive, said)
        for one, drive in zip(others, minutes, strict=True)
        if (said := _ready(one, now, drive)).word == ready.GO
    ]
    ordered = sorted(found, key=lambda one: (one.drive_minutes, one.planned))
    return tuple(ordered[:_MOST])


def _others(visit: Visit, now: datetime) -> Iterator[Visit]:
    day, seen = visit.van_day, set()
    tows = [tow.start for tow in day.tows.all() if tow.start >= now]
    rows = day.visits.filter(stage__state=Stage.State.TO_DO).exclude(
        stage__job__boat__place=visit.stage.job.boat.place
    )
    found = rows.select_related("stage__job__boat__place", "stage__sheet", "van_day")
    for one in found.order_by("start"):
        stage = one.stage
        brought = stage.equipment and any(start <= one.start for start in tows)
        if stage.fixed_start is None and not brought and stage.job_id not in seen:
            seen.add(stage.job_id)
            yield one


def _minutes(here: Place, places: list[Place]) -> list[int]:
    """Minutes to each place, signing in there included."""
    rows = list({place.pk: place for place in (here, *places)}.values())
    index = {place.pk: number for number, place in enumerate(rows)}
    drives = snapshot_gear.drives(rows)["drive_min"]
    return [drives[index[here.pk]][index[place.pk]] for place in places]


def _ready(visit: Visit, now: datetime, drive: int) -> Ready:
    return ready.at(visit, now + timedelta(minutes=drive), now)


def _near(visit: Visit, now: datetime, drive: int, said: Ready) -> Near:
    stage = visit.stage
    zone = ZoneInfo(stage.job.boat.place.time_zone)
    return Near(
        boat=stage.job.boat.name,
        stage_name=stage.name,
        place=stage.job.boat.place.name,
        drive_minutes=drive,
        begins=(now + timedelta(minutes=drive)).astimezone(zone),
        planned=visit.start.astimezone(zone),
        sentence=said.sentence,
    )
