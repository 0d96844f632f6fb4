"""A walk-round: customer, place, boat and job, known or new, taken in one go or only reckoned."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import time
from typing import Any

from django.db import transaction

from dispatch.actions import access, boats, customers, photos, places, reckoned, terms
from dispatch.actions.errors import Refused
from dispatch.actions.reckoned import Reckoned
from dispatch.records.models import Account, Boat, Customer, Job, Place

Values = Mapping[str, Any]
_HOURS = (time(8), time(18))


@dataclass(frozen=True, kw_only=True)
class Walked:
    """What was found: each a row that is known, or the values of a new one; ``near`` is a neighbour seen there, if any.

    A new boat's customer and place may be new themselves; of a known one only ``lies`` is read again, where it was.
    """

    customer: Customer | Values
    place: Place | Values
    boat: Boat | Values
    job: Values
    near: Values | None = None
    lies: Values | None = None


@transaction.atomic
def take(
    walked: Walked, *, state: str, by: Account, pictures: Sequence[bytes] = ()
) -> Job:
    """Take everything that is new into the book, the job asked for or agreed, with photos; all or nothing.

    Raises:
        Stranger: the account is not the owner's.
        Refused: something of it will not do.
    """
    access.owner(by)
    boat = walked.boat
    if not isinstance(boat, Boat):
        boat = _boat(walked, boat, by)
    elif walked.lies:
        boats.change(boat, walked.lies, by=by, why="Read on a walk-round.")
        boat.refresh_from_db()
    if walked.near:
        _near(boat.place, walked.near, by)
    job = terms.take(boat, walked.job, state=state, by=by)
    photos.add(boat, pictures, words="Walk-round", by=by)
    return job


def reckon(walked: Walked, *, by: Account) -> Reckoned:
    """What the job would take, cost and may be promised; nothing is stored.

    Raises:
        Stranger: the account is not the owner's.
        Refused: what ``take`` refuses.
    """
    return reckoned.of(_taking(walked, by))


def _taking(walked: Walked, by: Account) -> Callable[[], Job]:
    return lambda: take(walked, state=Job.State.ASKED, by=by)


def _boat(walked: Walked, new: Values, by: Account) -> Boat:
    customer, place = walked.customer, walked.place
    if not isinstance(customer, Customer):
        customer = customers.add(customers.blank() | dict(customer), by=by)
    if not isinstance(place, Place):
        place = _place(place, by)
    whole = boats.blank() | dict(new)
    return boats.add(whole | {"customer": str(customer.pk), "place": place.key}, by=by)


def _place(new: Values, by: Account) -> Place:
    """A new place; where its compass declination is not given, that of the nearest place whose is known."""
    nearest = places.near(new["latitude"], new["longitude"])
    given = dict(new)
    if given.get("declination_deg") is None and nearest:
        given["declination_deg"] = nearest.declination_deg
    zone = customers.blank()["time_zone"]
    return places.add({"time_zone": zone} | given, _HOURS, by=by)


def _near(place: Place, near: Values, by: Account) -> None:
    """Put a neighbour down at a place, unless it stands there already."""
    known = list(place.neighbours)
    if any(row["what"] == near["what"] for row in known):
        raise Refused(
            f"{near['what']} stands at {place.name} already. Change it on the page of the place."
        )
    places.change(place, {"neighbours": [*known, dict(near)]}, by=by)
