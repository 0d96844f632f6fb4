"""A person's day of the posted week, as the van drives it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from dispatch.actions import (
    cautions,
    clock,
    load_list,
    load_out,
    place_card,
    snapshot_gear,
    visit_card,
)
from dispatch.actions.load_list import Item
from dispatch.actions.place_card import PlaceCard
from dispatch.actions.visit_card import VisitCard
from dispatch.records.models import Account, Outfit, Person, Place, Tow, VanDay, Visit
from dispatch.trade.words import Words


@dataclass(frozen=True, kw_only=True)
class TowCard:
    """A move of equipment: hook it up where it stands, set it down where it goes."""

    equipment: str
    origin: str
    weight: str
    towed: bool
    take_minutes: int
    set_minutes: int


@dataclass(frozen=True, kw_only=True)
class Stop:
    """One knot of the route, in the place's own time; ``drive_minutes`` lead to it, signing in included."""

    start: datetime
    end: datetime
    drive_minutes: int
    place: PlaceCard
    visit: VisitCard | None = None
    tow: TowCard | None = None

    def __post_init__(self) -> None:
        if (self.visit is None) == (self.tow is None):
            raise ValueError("A stop is a visit or a tow.")


@dataclass(frozen=True, kw_only=True)
class Route:
    """A van's day: who rides, when it loads, drives off, pauses and is back, its stops in order, what it carries."""

    day: date
    now: datetime
    van: str
    base: str
    team: tuple[str, ...]
    depart: datetime
    drives_off: datetime
    back: datetime
    back_minutes: int
    rest: tuple[datetime, datetime] | None
    stops: tuple[Stop, ...]
    load: tuple[Item, ...]
    cautions: tuple[str, ...]


def owner_phone() -> str:
    """The number the crew calls when in doubt; empty where the owner gave none."""
    owners = Person.objects.filter(account__role=Account.Role.OWNER, active=True)
    return owners.exclude(phone="").values_list("phone", flat=True).first() or ""


def route(person: Person, day: date) -> Route | None:
    """The route of the van a person rides in on a date of the posted week; None where there is none."""
    van_day = (
        VanDay.objects.filter(team=person, on=day, plan__state="standing")
        .select_related("van__base")
        .prefetch_related("team__skills")
        .order_by("depart")
        .first()
    )
    return _route(van_day, clock.now()) if van_day else None


def next_day(person: Person, after: date) -> date | None:
    """The next date after one on which a person rides in the posted week."""
    return (
        VanDay.objects.filter(team=person, on__gt=after, plan__state="standing")
        .order_by("on")
        .values_list("on", flat=True)
        .first()
    )


def _route(van_day: VanDay, now: datetime) -> Route:
    words = Words(system=Outfit.objects.get().units)
    visits = list(
        van_day.visits.select_related(
            "van_day",
            "stage__job__boat__place",
            "stage__job__boat__customer",
            "stage__sheet",
        ).order_by("start")
    )
    tows = list(
        van_day.tows.select_related("equipment", "origin", "destination").order_by(
            "start"
        )
    )
    stops, back_minutes = _stops(van_day, (visits, tows), now, words)
    zone = ZoneInfo(van_day.van.base.time_zone)
    rest = (van_day.break_start, van_day.break_end)
    return Route(
        day=van_day.on,
        now=now.astimezone(zone),
        van=van_day.van.name,
        base=van_day.van.base.name,
        team=tuple(person.name for person in van_day.team.all()),
        depart=van_day.depart.astimezone(zone),
        drives_off=(van_day.depart + _loading(van_day, visits, tows)).astimezone(zone),
        back=van_day.back.astimezone(zone),
        back_minutes=back_minutes,
        rest=(rest[0].astimezone(zone), rest[1].astimezone(zone))
        if rest[0] and rest[1]
        else None,
        stops=stops,
        load=load_list.of(van_day, visits, tows, words),
        cautions=cautions.of(visits, tows, words),
    )


def _loading(
    van_day: VanDay, visits: Sequence[Visit], tows: Sequence[Tow]
) -> timedelta:
    """What is planned for loading at the base before the first drive; nothing where the whole day is there."""
    lies = [visit.stage.job.boat.place for visit in visits]
    ends = [place for tow in tows for place in (tow.origin, tow.destination)]
    base = van_day.van.base
    minutes = (load_out.minutes(base, place) for place in (*lies, *ends))
    return timedelta(minutes=max(minutes, default=0))


def _stops(
    van_day: VanDay,
    work: tuple[Sequence[Visit], Sequence[Tow]],
    now: datetime,
    words: Words,
) -> tuple[tuple[Stop, ...], int]:
    """The stops in order, and the minutes back to base."""
    team, drives = list(van_day.team.all()), _Drives(van_day, work)
    here, stops = van_day.van.base, []
    rows: list[Visit | Tow] = [*work[0], *work[1]]
    for one in sorted(rows, key=lambda row: (row.start, row.end)):
        first = one.stage.job.boat.place if isinstance(one, Visit) else one.origin
        minutes = drives.minutes(here, first)
        here = first if isinstance(one, Visit) else one.destination
        card = place_card.of(here, van_day.on, words)
        stops.append(
            Stop(
                start=one.start.astimezone(card.zone),
                end=one.end.astimezone(card.zone),
                drive_minutes=minutes,
                place=card,
                visit=visit_card.of(one, team, now, words)
                if isinstance(one, Visit)
                else None,
                tow=_tow(one, words) if isinstance(one, Tow) else None,
            )
        )
    return tuple(stops), drives.minutes(here, van_day.van.base)


def _tow(tow: Tow, words: Words) -> TowCard:
    thing = tow.equipment
    return TowCard(
        equipment=thing.name,
        origin=tow.origin.name,
        weight=load_list.weight(thing.weight_kg, words),
        towed=thing.towed,
        take_minutes=thing.take_minutes,
        set_minutes=thing.set_minutes,
    )


class _Drives:
    """Minutes between the places of one day, as the planner has them."""

    def __init__(
        self, van_day: VanDay, work: tuple[Sequence[Visit], Sequence[Tow]]
    ) -> None:
        visits, tows = work
        ends = [place for tow in tows for place in (tow.origin, tow.destination)]
        lies = [visit.stage.job.boat.place for visit in visits]
        self._places: Mapping[int, Place] = {
            place.pk: place for place in (van_day.van.base, *ends, *lies)
        }
        rows = list(self._places.values())
        self._index = {place.pk: index for index, place in enumerate(rows)}
        self._minutes = snapshot_gear.drives(rows)["drive_min"]

    def minutes(self, origin: Place, destination: Place) -> int:
        """Whole minutes, signing in at the far end included."""
        return self._minutes[self._index[origin.pk]][self._index[destination.pk]]
