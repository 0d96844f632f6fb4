"""What is not where the week took it to be: equipment that stands elsewhere, a boat that was moved or turned."""

from django.db import transaction

from dispatch.actions import access, boats, clock, history
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
    boat = Boat.objects.select_related("place").get(pk=boat.pk)
    moved = boat.place_id != place.pk
    if not moved and heading_deg is None:
        raise Refused(
            f"{boat.name} lies at {place.name} already. Enter another place or how she heads."
        )
    lies: dict[str, object] = {
        "heading_deg": _heading(heading_deg),
        "heading_reference": _reference(reference),
    }
    if moved:
        lies |= {"place": place.key, "berth": ""}
    told = boats.change(boat, lies, by=by)
    return f"{boat.name}: {'; '.join(told) or 'nothing is new'}."


def _heading(heading_deg: float | None) -> float | None:
    if heading_deg is None:
        return None
    if not 0 <= heading_deg <= _ROUND_DEG:
        raise Refused(
            f"A heading lies from 0 to 360°, not {heading_deg:g}. Read it again."
        )
    return heading_deg % _ROUND_DEG


def _reference(reference: str) -> str:
    if reference not in Boat.HeadingReference.values:
        raise Refused("Say whether the heading is true or by compass.")
    return reference
