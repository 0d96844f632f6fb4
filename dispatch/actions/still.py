"""Hold everything still: no plan is taken and no message leaves until it is let go; film sets on and is watched."""

from django.db import transaction

from dispatch.actions import access, clock, history
from dispatch.actions.board_words import dated
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Outfit


def since() -> Outfit | None:
    """The outfit while everything is held still; None where it goes on."""
    return Outfit.objects.exclude(still_since=None).first()


@transaction.atomic
def hold(*, by: Account, why: str) -> None:
    """Hold every move and message still, for a reason.

    Raises:
        Stranger: the account is not the owner's.
        Refused: no reason is given, or it is held still already.
    """
    access.owner(by)
    if not why.strip():
        raise Refused("Say why everything is to be held still. Nothing was changed.")
    outfits = Outfit.objects.filter(still_since=None)
    if not outfits.update(still_since=clock.now(), still_why=why.strip()[:400]):
        raise Refused("Everything is held still already. Nothing was changed.")
    history.write(
        "hold-still", "outfit", "Held all moves and messages still.", by=by, why=why
    )


@transaction.atomic
def go_on(*, by: Account) -> None:
    """Let moves and messages go on; what waited is judged again by the rows as they are before it leaves.

    Raises:
        Stranger: the account is not the owner's.
        Refused: nothing is held still.
    """
    access.owner(by)
    held = Outfit.objects.exclude(still_since=None)
    if not held.update(still_since=None, still_why=""):
        raise Refused("Nothing is held still. Nothing was changed.")
    history.write("go-on", "outfit", "Let moves and messages go on.", by=by)


def said() -> str:
    """Since when everything is held still, and why, as a sentence; empty where it goes on."""
    outfit = since()
    if outfit is None or outfit.still_since is None:
        return ""
    return f"Everything is held still since {dated(outfit.still_since, clock.zone())}: {outfit.still_why}."


def refuse() -> None:
    """Refuse while everything is held still.

    Raises:
        Refused: it is, with since when and why.
    """
    if sentence := said():
        raise Refused(f"{sentence} Let it go on first.")
