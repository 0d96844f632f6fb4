"""What the crew is told by message: that wet film is to be covered, and when nobody need go any more."""

from collections.abc import Sequence
from datetime import datetime
from zoneinfo import ZoneInfo

from django.db.models import Q

from dispatch.actions import announcing, board_words, clock, covered, rates, struck
from dispatch.actions.board_words import when
from dispatch.actions.film_threat import Threat
from dispatch.notices import outbox, reasons, words
from dispatch.notices.reasons import Reason
from dispatch.records.models import (
    Account,
    Cover,
    DayOff,
    Job,
    Notice,
    Outfit,
    Person,
    VanDay,
    WeekPlan,
)

_WANTED = Reason.COVER
_MAY_HAVE_COME = (Notice.State.SENT, Notice.State.CLAIMED, Notice.State.UNKNOWN)


def wanted(cover: Cover, threats: Sequence[Threat], *, by: Account | None) -> None:
    """Put it in the outbox that a boat is to be covered, for those of the crew who may go and agreed to be told.

    They are those who are out with a van now; where none of them is, or may be written to, all who work here and
    are not away today. Whoever asked for it knows.
    """
    if not rates.crew().cover_told:
        return
    first = min(threats, key=lambda one: one.at, default=None)
    zone = ZoneInfo(cover.job.boat.place.time_zone)
    occasion = reasons.Cover(
        about=announcing.about(cover.job),
        by=cover.by_when if cover.by_when and cover.by_when > clock.now() else None,
        using=covered.name(cover),
        threat=f"{first.what} comes {when(first.at, zone)}" if first else "",
        safe=first.safe if first else None,
        stays=struck.of(cover),
    )
    for person in _may_go(by):
        put(cover.job, occasion, person, _fact(cover), "asked")


def settled(
    cover: Cover, *, by: Account | None, since: datetime | None, who: str = ""
) -> None:
    """Drop what waits to tell of a cover, and tell those who were told that nobody need go: it is on, or not wanted."""
    about = Notice.objects.filter(reason=_WANTED, fact=_fact(cover))
    about.filter(state=Notice.State.WAITING).update(state=Notice.State.DROPPED)
    knows = by.person_id if by else None
    occasion = reasons.CoverSettled(
        about=announcing.about(cover.job), since=since, who=who
    )
    told = about.filter(state__in=_MAY_HAVE_COME).exclude(person=knows)
    for person in Person.objects.filter(pk__in=told.values("person")):
        version = since.isoformat() if since else "off"
        put(cover.job, occasion, person, _fact(cover), version)


def stale(notice: Notice) -> str:
    """Why a message that asks for a cover is not to go out any more, or nothing."""
    if notice.reason != _WANTED:
        return ""
    pk = notice.fact.rpartition(" ")[2]
    open_ones = Cover.objects.filter(pk=pk, on_at=None, off_at=None)
    return "" if open_ones.exists() else "She is covered, or no cover is wanted."


def says(cover: Cover) -> str:
    """Who is told of a cover, and who of those out now is to be called, in sentences."""
    told = Person.objects.filter(
        notices__reason=_WANTED, notices__fact=_fact(cover)
    ).distinct()
    names = [one.name for one in told]
    call = [one.name for one in _out() if one.name not in names]
    if cover.asked_by and cover.asked_by.person:
        call = [name for name in call if name != cover.asked_by.person.name]
    first = (
        f"{board_words.names(names)} {'is' if len(names) == 1 else 'are'} told by message."
        if names
        else "Nobody of the crew is told by message."
    )
    if call:
        return f"{first} Call {board_words.names(call)}, out now."
    return first if names else f"{first} Call whoever is to go."


def _may_go(by: Account | None) -> list[Person]:
    knows = by.person_id if by else None
    for found in (_out(), _here()):
        told = [p for p in found if p.pk != knows and announcing.addresses(p)]
        if told:
            return told
    return []


def _out() -> list[Person]:
    """Who is out with a van now, as the week stands."""
    now = clock.now()
    days = VanDay.objects.filter(
        plan__state=WeekPlan.State.STANDING, depart__lte=now, back__gt=now
    )
    return list(Person.objects.filter(van_days__in=days, active=True).distinct())


def _here() -> list[Person]:
    """Who works here and is not away all of today."""
    zone = ZoneInfo(Outfit.objects.get().time_zone)
    today = clock.now().astimezone(zone).date()
    away = DayOff.objects.filter(Q(start=None), on=today)
    rows = Person.objects.filter(active=True)
    return list(rows.exclude(pk__in=away.values("person")))


def put(
    job: Job,
    occasion: reasons.ForCrew,
    person: Person,
    fact: str,
    version: str,
) -> None:
    """One message to a person by each channel they agreed to, at any hour."""
    wording = words.write(occasion)
    bodies = {"text": wording.text, "email": wording.letter}
    for channel, to in announcing.addresses(person).items():
        fresh = outbox.Fact(
            reason=occasion.reason,
            fact=fact,
            version=version,
            to_whom=person,
            job=job,
            subject=wording.subject,
            body=bodies[channel],
            due_at=announcing.allowed(occasion.reason, person, clock.now()),
        )
        outbox.put(fresh, channel=channel, to=to)


def _fact(cover: Cover) -> str:
    return f"{cover.job.key} cover {cover.pk}"
