"""How long it is from place to place: told by plugins in a task, stored, and reckoned by distance where none knows."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from django.db import transaction

from dispatch.actions import driven, due, plugins, rates, weather
from dispatch.actions.driven import Driven
from dispatch.hooks.answer_parts import MOST_ENTRIES
from dispatch.hooks.values import DrivesAsk, Leg, Spot
from dispatch.records.models import DriveTime, Place, PluginState

VERB = "measure-drives"
Pair = tuple[str, str]


@dataclass(frozen=True, kw_only=True)
class Known:
    """Of how many drives between places in use a plugin told, as the places lie now."""

    told: int
    of: int


def later() -> None:
    """Leave it to the worker to have every drive told anew; nothing while no plugin is enabled that tells them."""
    if any(True for _ in plugins.enabled("drives")):
        due.put(VERB, "all")


def stored() -> dict[tuple[int, int], tuple[int, int]]:
    """Minutes and metres by the keys of both rows: as people drove it, else by the first enabled plugin that told."""
    order = ["", *(state.name for state in plugins.enabled("drives"))]
    found: dict[tuple[int, int], tuple[int, int]] = {}
    rows = _rows(order)
    for row in sorted(rows, key=lambda row: order.index(row.source)):
        found.setdefault((row.origin_id, row.destination_id), (row.minutes, row.metres))
    return found


def known(source: str) -> Known:
    """How far a plugin's answers reach."""
    count = weather.places().count()
    return Known(told=len(list(_rows([source]))), of=count * (count - 1))


def measure() -> None:
    """Ask each enabled plugin for the drives between places in use that none before it told, and store what it tells.

    Holds no transaction while one works. What a plugin that fails told before stays, unless a place has moved.
    """
    places = list(weather.places())
    spots = [_spot(place) for place in places]
    wanted = {(a.key, b.key) for a in spots for b in spots if a != b}
    for state in plugins.enabled("drives"):
        if wanted:
            legs = list(_told(state, spots, wanted))
            _store(state.name, legs, places)
            wanted -= {(leg.origin, leg.destination) for leg in legs}


def _told(
    state: PluginState, spots: Sequence[Spot], wanted: set[Pair]
) -> Iterator[Leg]:
    """What a plugin tells of the wanted drives, asked for as many origins at once as one answer may hold."""
    found = tuple(_driven())
    most = max(1, MOST_ENTRIES // max(1, len(spots)))
    origins = [spot for spot in spots if any(spot.key == a for a, _ in wanted)]
    for first in range(0, len(origins), most):
        state.refresh_from_db()
        ask = _ask(origins[first : first + most], spots, found)
        outcome = plugins.ask(state, "drives", ask)
        if outcome.fault:
            return
        legs: Sequence[Leg] = outcome.answer.legs
        yield from (leg for leg in legs if (leg.origin, leg.destination) in wanted)


def _ask(
    origins: Iterable[Spot], spots: Iterable[Spot], found: tuple[Leg, ...]
) -> DrivesAsk:
    roads = rates.roads()
    return DrivesAsk(
        origins=tuple(origins),
        destinations=tuple(spots),
        circuity=roads.circuity,
        km_per_hour=roads.km_per_hour,
        start_minutes=roads.start_minutes,
        driven=found,
    )


@transaction.atomic
def _store(source: str, legs: Iterable[Leg], places: Iterable[Place]) -> None:
    at = {place.key: place for place in places}
    for leg in legs:
        origin, destination = at[leg.origin], at[leg.destination]
        DriveTime.objects.update_or_create(
            origin=origin,
            destination=destination,
            source=source,
            defaults={
                "minutes": leg.minutes,
                "metres": leg.metres,
                "between": _between(origin, destination),
            },
        )


def _driven() -> Iterator[Leg]:
    """What people have entered, and what the crew's reports teach of drives that nobody entered."""
    rows = DriveTime.objects.filter(source="").select_related("origin", "destination")
    entered = {(row.origin_id, row.destination_id) for row in rows}
    for row in rows:
        yield _leg(row)
    for one in driven.learnt():
        if one.counts and (one.origin.pk, one.destination.pk) not in entered:
            yield _leg(one)


def _leg(row: DriveTime | Driven) -> Leg:
    return Leg(
        origin=row.origin.key,
        destination=row.destination.key,
        minutes=row.minutes,
        metres=row.metres,
    )


def _rows(sources: Iterable[str]) -> Iterator[DriveTime]:
    """The drives of some sources that still hold: a plugin's do while both places lie where they lay."""
    rows = DriveTime.objects.filter(source__in=list(sources))
    for row in rows.select_related("origin", "destination"):
        if not row.source or row.between == _between(row.origin, row.destination):
            yield row


def _between(origin: Place, destination: Place) -> str:
    ends = (origin, destination)
    return " ".join(f"{end.latitude:.6f},{end.longitude:.6f}" for end in ends)


def _spot(place: Place) -> Spot:
    return Spot(key=place.key, latitude=place.latitude, longitude=place.longitude)
