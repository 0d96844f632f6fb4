"""What is not where the week took it to be: equipment that stands elsewhere, a boat that was moved or turned."""

from django.db import transaction

from dispatch.actions import access, clock, history, lies, turns
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Boat, Equipment, Place, Standing

_ROUND_DEG = 360


@transaction.atomic
def equipment_stands(thing: Equipment, place: Place, *, by: Account) -> str:
    """Store where a piece of equipment was seen just now; return it as a sentence.

    Raises:
        Stranger: the account is not the owner's.
    """
    access.owner(by)
    Standing.objects.update_or_create(
        equipment=thing, since=clock.now(), defaults={"place": place}
    )
    sentence = f"{thing.name} stands at {place.name}."
    history.write("found-equipment", f"equipment {thing.key}", sentence, by=by)
    return sentence


@transaction.atomic
def boat_lies(
    boat: Boat,
    place: Place,
    *,
    by: Account,
    heading_deg: float | None = None,
    reference: str = Boat.HeadingReference.TRUE,
) -> str:
    """Store where a boat lies now and how she heads; return it as a sentence. Her sky is judged again by that.

    Without a heading, moved to another place, how she heads is not known until somebody reads it.

    Raises:
        Stranger: the account is not the owner's.
        Refused: the heading cannot be, is by compass where the declination is not known, or nothing is new.
    """
    access.owner(by)
    boat = Boat.objects.select_related("place").get(pk=boat.pk)
    moved = boat.place_id != place.pk
    if not moved and heading_deg is None:
        raise Refused(
            f"{boat.name} lies at {place.name} already. Enter another place or how she heads."
        )
    _heading(heading_deg, reference, place)
    said = _moved(boat, place) if moved else ""
    boat = Boat.objects.select_related("place").get(pk=boat.pk)
    if heading_deg is not None:
        turned = turns.lies(boat, heading_deg % _ROUND_DEG, reference, clock.now())
        said = f"{said} {turned}".strip()
    lies.anew(boat, said)
    history.write("found-boat", f"boat {boat.key}", said, by=by)
    return said


def _heading(heading_deg: float | None, reference: str, place: Place) -> None:
    if heading_deg is None:
        return
    if not 0 <= heading_deg <= _ROUND_DEG:
        raise Refused(
            f"A heading lies from 0 to 360°, not {heading_deg:g}. Read it again."
        )
    if reference not in Boat.HeadingReference.values:
        raise Refused("Say whether the heading is true or by compass.")
    if reference == Boat.HeadingReference.MAGNETIC and place.declination_deg is None:
        raise Refused(
            f"{place.name} has no declination, so a compass reading cannot be turned to true. Enter it on the place's page."
        )


def _moved(boat: Boat, place: Place) -> str:
    before = boat.place.name
    Boat.objects.filter(pk=boat.pk).update(place=place, berth="", heading_deg=None)
    moved = Boat.objects.select_related("place").get(pk=boat.pk)
    turns.heads(moved)
    return f"{boat.name} lies at {place.name}, no more at {before}."
