"""Done, told of a visit whose first coat is on: whether its second one is on too, or the crew stopped before it."""

from zoneinfo import ZoneInfo

from dispatch.actions import recoat, to_lay, too_little
from dispatch.actions.board_words import when
from dispatch.actions.errors import Refused, Unsure
from dispatch.records.models import Outfit, Stage
from dispatch.trade.words import Words


def check(stage: Stage, ounces: float | None, *, sure: bool) -> None:
    """Ask whether a second coat is on that the crew was to stop before; an amount it took, or ``sure``, answers.

    Raises:
        Unsure: the cans do not do for it, and nobody said that it is on all the same.
    """
    words = Words(system=Outfit.objects.get().units)
    stop = too_little.line(stage, words) if ounces is None and not sure else ""
    if stop:
        raise Unsure(
            f"{stop} Is the second coat on all the same? If you measured it, write what it took. Nothing is stored yet.",
            yes="Yes, coat 2 is on",
        )


def refuse_none(stage: Stage, ounces: float | None) -> None:
    """Refuse that a visit is done whose second coat took nothing: it is not on, and the first one waits for it.

    Raises:
        Refused: it is so.
    """
    if ounces != 0 or to_lay.first_coat(stage) is None:
        return
    latest = recoat.told(stage) if recoat.limited(stage) else None
    zone = ZoneInfo(stage.job.boat.place.time_zone)
    until = (
        f"It may follow until {when(latest, zone)}; after that both are laid anew."
        if latest
        else f"Until when it may follow is not known: read the sheet of {stage.sheet}."
    )
    raise Refused(
        f"0 of the second coat is not laid, so {stage.name} is not done. {until} Leave her under way, and tell the owner."
    )
