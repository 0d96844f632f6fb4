"""A boat's registration and hull identification number: stored as entered, doubted aloud, never refused for their form."""

from collections.abc import Mapping

from django.db import transaction

from dispatch.actions import access, history, keeping
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Boat
from dispatch.trade import numbers

_LONGEST = 20


@transaction.atomic
def change(
    boat: Boat,
    *,
    registration: str,
    hull_number: str,
    by: Account,
    seen: Mapping[str, str] | None = None,
) -> None:
    """Store what stands on a boat; what looks wrong is told in the history. ``seen`` is what stood there for whoever changes it.

    Raises:
        Stranger: the account is not the owner's.
        Refused: one is longer than any number is.
        Stale: another number stands there meanwhile.
    """
    access.owner(by)
    entered = {
        "registration": registration.strip().upper(),
        "hull_number": hull_number.strip().upper(),
    }
    for what, value in entered.items():
        if len(value) > _LONGEST:
            raise Refused(
                f"A {what.replace('_', ' ')} has at most {_LONGEST} characters. Check it."
            )
    boat = Boat.objects.select_for_update().get(pk=boat.pk)
    if any(getattr(boat, name) != stood for name, stood in (seen or {}).items()):
        raise keeping.crossed(boat.name)
    changed = {name: new for name, new in entered.items() if getattr(boat, name) != new}
    if not changed:
        return
    Boat.objects.filter(pk=boat.pk).update(**changed)
    history.write("set-marks", f"boat {boat.key}", _told(boat, changed), by=by)


def _told(boat: Boat, changed: dict[str, str]) -> str:
    parts = []
    for name, new in changed.items():
        called = name.replace("_", " ").capitalize()
        doubt = numbers.doubt if name == "registration" else numbers.hull_doubt
        said = doubt(new) if new else ""
        parts.append(f"{called} of {boat.name}: {new or 'taken out'}. {said}".strip())
    return " ".join(parts)
