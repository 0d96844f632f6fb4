"""What the owner is told by message: that rain or dew comes to wet film, once, and again where it comes sooner."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from django.db import transaction
from django.db.models import Q, QuerySet

from dispatch.actions import (
    announcing,
    clock,
    covered,
    crew_told,
    film_threat,
    rates,
    struck,
)
from dispatch.actions.board_words import when
from dispatch.actions.boat_stands import part
from dispatch.notices import outbox, reasons
from dispatch.notices.reasons import Reason
from dispatch.records.models import Account, Hold, Job, Notice, Person, Place

# Where no forecast says when film is rain-safe, it is no longer spoken of after so long.
_LONGEST = timedelta(days=14)
# Rain that goes on is not told of anew for so long; an assumption.
_GOES_ON = timedelta(hours=6)


def at_place(place: Place) -> None:
    """Tell the owner of each boat of a place whose laid film is threatened by the newest forecast."""
    rows = _wet_rows(clock.now()).filter(stage__job__boat__place=place)
    for job in Job.objects.filter(pk__in=rows.values("stage__job")):
        of_job(job)


@transaction.atomic
def of_job(job: Job) -> None:
    """Tell the owner, who agreed to it, of rain or dew that comes to a boat's laid film before that can bear it.

    Once, and again where it comes sooner than was told, or where what was told has gone by and more comes. Film under
    a roof or a cover that is on is not threatened till that must be down; where one is asked for, only what comes
    sooner is told of.
    """
    if not rates.crew().owner_told or not (people := _owners()):
        return
    occasion = _occasion(Job.objects.select_related("boat__place").get(pk=job.pk))
    if occasion is None:
        return
    last = Notice.objects.filter(job=job, reason=occasion.reason)
    told = last.exclude(state=Notice.State.DROPPED).order_by("-pk").first()
    known = datetime.fromisoformat(outbox.version_of(told)) if told else None
    cover = covered.of(job)
    asked = cover.by_when + film_threat.BEFORE if cover and cover.by_when else None
    if any(_knows(one, occasion.at) for one in (known, asked) if one):
        return
    for person in people:
        version = occasion.at.isoformat()
        crew_told.put(job, occasion, person, f"{job.key} threat", version)


def stale(notice: Notice) -> str:
    """Why a message that film is threatened is not to go out any more, or nothing."""
    if notice.reason != Reason.FILM_THREAT or notice.job is None:
        return ""
    if _occasion(notice.job) is not None:
        return ""
    return "She is covered, her film is not wet any more, or the newest forecast has nothing against it."


def _knows(told: datetime, at: datetime) -> bool:
    """Whether who was told of a threat from one moment on knows of one from another."""
    now = clock.now()
    if at < told or told > now:
        return at >= told
    return at <= now and at - told < _GOES_ON


def _owners() -> list[Person]:
    rows = Person.objects.filter(account__role=Account.Role.OWNER, active=True)
    return [person for person in rows.distinct() if announcing.addresses(person)]


def _wet_rows(now: datetime) -> QuerySet[Hold]:
    """Laid film that is not known to be rain-safe."""
    still = Q(end__gt=now) | Q(end=None, start__gt=now - _LONGEST)
    return Hold.objects.filter(
        still, kind=Hold.Kind.RAIN_SAFE, planned=False, start__lte=now
    )


def _occasion(job: Job) -> reasons.FilmThreat | None:
    """What is to be told of a boat now; None where her film is not wet or nothing reaches it before it is rain-safe."""
    now, cover = clock.now(), covered.of(job)
    held = list(_wet_rows(now).filter(stage__job=job).select_related("stage"))
    films = [
        film_threat.Wet(safe=hold.end, keeper=struck.over(hold.stage, cover))
        for hold in held
    ]
    place = job.boat.place
    found = film_threat.upon(place, films, now, now + _LONGEST)
    if not found:
        return None
    first = min(found, key=lambda one: one.at)
    comes = f"{first.what} comes {when(first.at, ZoneInfo(place.time_zone))}"
    by = first.at - film_threat.BEFORE
    return reasons.FilmThreat(
        about=announcing.about(job),
        panels=tuple(dict.fromkeys(part(hold.stage) for hold in held)),
        threat=f"{first.bares}, and {comes}" if first.bares else comes,
        at=first.at,
        by=by if by > now else None,
        asked=covered.name(cover) if cover and not cover.on_at else "",
        safe=first.safe,
    )
