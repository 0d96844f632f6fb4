"""Film that is setting, and film that is planned, reckoned again when a newer sky comes in."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from django.db import transaction

from dispatch.actions import announcing, clock, history, holds
from dispatch.records.models import Hold, Place, Stage, Visit

# Where no forecast says when film is hard, it is no longer reckoned after so long.
_LONGEST = timedelta(days=14)
_A_MINUTE = timedelta(minutes=1)


def reckon(place: Place) -> None:
    """Reckon every film at a place again: what sets by the hours gone by and the newest to come, what is planned by the newest.

    Where the time of laid film changes, the history tells by how much and its customer is told anew
    where that matters.
    """
    now = clock.now()
    for stage in _setting(place, now):
        _again(stage)
    planned = Visit.objects.filter(
        stage__job__boat__place=place, end__gt=now, stage__sheet__isnull=False
    ).exclude(stage__state=Stage.State.DONE)
    for visit in planned.select_related("stage__job__boat__place", "stage__sheet"):
        with transaction.atomic():
            holds.write(visit.stage, visit.end, planned=True)


@transaction.atomic
def age(place: Place) -> None:
    """Widen the range of film that sets at a place, as its forecast has grown older.

    Nobody is told: nothing of the sky has changed but that less of it is known.
    """
    for stage in _setting(place, clock.now()):
        laid_at = Hold.objects.filter(stage=stage).values_list("start", flat=True)[0]
        holds.write(stage, laid_at, planned=False)


def _setting(place: Place, now: datetime) -> list[Stage]:
    """Stages whose laid film is not known to be hard yet."""
    rows = Hold.objects.filter(
        stage__job__boat__place=place, planned=False, start__gt=now - _LONGEST
    ).exclude(latest__lte=now)
    return list(
        Stage.objects.filter(holds__in=rows)
        .select_related("job__boat__place", "sheet")
        .distinct()
    )


@transaction.atomic
def _again(stage: Stage) -> None:
    before = {hold.kind: hold for hold in Hold.objects.filter(stage=stage)}
    laid_at = next(hold.start for hold in before.values())
    holds.write(stage, laid_at, planned=False)
    changes = list(_changes(stage, before))
    if not changes:
        return
    history.write(
        "film-turned",
        f"job {stage.job.key}",
        f"{stage.name} on {stage.job.boat.name}, by the new forecast: {'; '.join(changes)}.",
        actor="sky",
    )
    announcing.film_again(stage)


def _changes(stage: Stage, before: dict[str, Hold]) -> Iterator[str]:
    zone = ZoneInfo(stage.job.boat.place.time_zone)
    for hold in Hold.objects.filter(stage=stage).order_by("start", "kind"):
        was = before.get(hold.kind)
        if was is None or _differs(was, hold):
            label = Hold.Kind(hold.kind).label.lower()
            told = (
                "not known before" if was is None else f"before {holds.when(was, zone)}"
            )
            yield f"{label} {holds.when(hold, zone)}, {told}"


def _differs(was: Hold, now: Hold) -> bool:
    pairs = (
        (was.end, now.end),
        (was.earliest, now.earliest),
        (was.latest, now.latest),
    )
    return any(
        abs(old - new) >= _A_MINUTE if old and new else old is not new
        for old, new in pairs
    )
