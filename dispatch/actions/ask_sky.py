"""Have every forecast source asked for every place by the worker; tell whether it still is, and what came."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db import transaction
from django.utils import timezone

from dispatch.actions import access, due, history, plugins, weather
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, DueWork, HistoryEntry

VERB = "ask-forecasts"
# An answer older than this is no longer what whoever looks has asked for.
_FRESH = timedelta(minutes=15)
# What newly come forecasts leave to do before the board is judged by them.
_FOLLOWS = ("take-in-forecast", "judge-book", "judge-stage", "reckon-film")


@dataclass(frozen=True, kw_only=True)
class Asking:
    """How asking for all forecasts stands, by the machine's clock.

    ``since`` is when it was asked and is not answered yet; ``begun`` whether a worker is at it; ``to_judge``
    how many stages and places still wait to be judged by what came. ``said`` is what came, of the asking
    that ended in the last quarter of an hour; ``went_wrong`` whether some of it failed.
    """

    since: datetime | None = None
    begun: bool = False
    to_judge: int = 0
    said: str = ""
    went_wrong: bool = False


@transaction.atomic
def soon(*, by: Account) -> None:
    """Leave it to the worker to ask every enabled source for every place; asked again meanwhile it is done once.

    Raises:
        Stranger: the account is not the owner's.
        Refused: no source is enabled.
    """
    access.owner(by)
    if not any(True for _ in plugins.enabled("forecast")):
        raise Refused(weather.NO_SOURCE)
    if _open() is None:
        history.write(VERB, "forecasts", "Asked for all forecasts.", by=by)
        due.put(VERB, "all")


def standing() -> Asking:
    """How it stands now."""
    if row := _open():
        return Asking(since=row.due_at, begun=row.claimed_at is not None)
    since = timezone.now() - _FRESH
    last = DueWork.objects.filter(verb=VERB, done_at__gte=since).last()
    if last is None:
        return Asking()
    if last.fault:
        return Asking(said=last.fault, went_wrong=True)
    if left := _still_to_judge():
        return Asking(since=last.due_at, begun=True, to_judge=left)
    told = HistoryEntry.objects.filter(verb__in=weather.HEARD).first()
    return Asking(
        said=told.sentence if told else "",
        went_wrong=bool(told and told.verb != weather.HEARD[0]),
    )


def _open() -> DueWork | None:
    return DueWork.objects.filter(verb=VERB, done_at__isnull=True).first()


def _still_to_judge() -> int:
    return DueWork.objects.filter(
        verb__in=_FOLLOWS, done_at__isnull=True, due_at__lte=timezone.now()
    ).count()
