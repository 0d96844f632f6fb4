"""Cover a boat whose film is wet: the owner asks for it, somebody says that it is on, and it comes off again."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from django.db import IntegrityError, transaction

from dispatch.actions import (
    access,
    board_boats,
    clock,
    covered,
    covering,
    crew_told,
    film_threat,
    history,
    roofs,
    struck,
)
from dispatch.actions.board import BoatRow
from dispatch.actions.board_reading import Reading
from dispatch.actions.board_words import when
from dispatch.actions.errors import Refused, Stale
from dispatch.actions.film_threat import Threat
from dispatch.records.models import (
    Account,
    Cover,
    Equipment,
    Job,
    Standing,
)

_OLDEST = timedelta(days=7)


@transaction.atomic
def ask(reading: Reading, job: Job, roof: str, *, by: Account) -> Cover:
    """Ask for a roof of the outfit over a boat whose film is wet, or for what can be had where none is named.

    Raises:
        Stranger: the account is not the owner's.
        Refused: no film of hers is wet, she has a cover, or the roof is not free for her or must be down.
    """
    access.owner(by)
    row = _row(reading, job)
    if row is None or not film_threat.wet(reading, row, reading.now):
        raise Refused(
            f"No film of {job.boat.name} that lies open is wet. There is nothing to cover."
        )
    threats = film_threat.threats(reading, row, reading.now)
    first = min(threats, key=lambda one: one.at, default=None)
    due = first.at if first else None
    thing = _free(reading, job, roof, first)
    try:
        with transaction.atomic():
            cover = Cover.objects.create(
                job=job,
                equipment=thing,
                by_when=due - film_threat.BEFORE if due else None,
                asked_at=clock.now(),
                asked_by=by,
            )
    except IntegrityError as error:
        raise Stale(
            "She has a cover, or the roof was taken, in this very moment. Load the page again."
        ) from error
    zone = ZoneInfo(job.boat.place.time_zone)
    by_when = f" by {when(cover.by_when, zone)}" if cover.by_when else ""
    crew_told.wanted(cover, threats, by=by)
    stays = struck.of(cover)
    words = f"cover asked for{by_when}: {covered.name(cover)}"
    _write("ask-cover", cover, f"{words}; {stays}" if stays else words, by=by)
    return cover


def _row(reading: Reading, job: Job) -> BoatRow | None:
    boats = (row for place in board_boats.rows(reading) for row in place.boats)
    return next((row for row in boats if row.job == job.key), None)


def _free(
    reading: Reading, job: Job, roof: str, threat: Threat | None
) -> Equipment | None:
    if job.key in covered.standing():
        raise Refused(
            f"A cover is asked for over {job.boat.name} already. Take that back first."
        )
    if not roof:
        return None
    free = {one.key: one for one in roofs.free(reading, job.boat.place)}
    if roof not in free:
        raise Refused(
            "That roof is not free for her any more. Load the page again to see which is."
        )
    down = threat and covering.falls(free[roof], job.boat.place, reading.now, threat)
    if down:
        raise Refused(f"{down}. Cover {job.boat.name} with what can be had.")
    return Equipment.objects.get(key=roof)


@transaction.atomic
def is_on(cover: Cover, who: str, at: datetime, *, by: Account) -> str:
    """Store that she is covered since a moment, as somebody of the outfit says by name who saw it; return it as a sentence.

    Raises:
        Refused: the moment cannot be.
        Stale: it was said before, or the cover is not wanted any more.
    """
    if not clock.now() - _OLDEST <= at <= clock.now():
        raise Refused(
            "Say since when she is covered: a time gone by, in these seven days."
        )
    open_ones = Cover.objects.filter(pk=cover.pk, on_at=None, off_at=None)
    if not open_ones.update(on_at=at):
        raise Stale(
            f"{cover.job.boat.name}: that was said already, or the cover is not wanted any more. Nothing was changed."
        )
    if cover.equipment is not None:
        Standing.objects.update_or_create(
            equipment=cover.equipment,
            since=at,
            defaults={"place": cover.job.boat.place},
        )
    since = when(at, ZoneInfo(cover.job.boat.place.time_zone))
    words = f"covered since {since}: {covered.name(cover)}"
    crew_told.settled(cover, by=by, since=at, who=who)
    return _write("cover-on", cover, words, by=by, actor=who)


@transaction.atomic
def off(cover: Cover, *, by: Account) -> str:
    """Take a cover off, or take back that it was asked for; return it as a sentence.

    Raises:
        Stranger: the account is not the owner's.
        Stale: it is off already.
    """
    access.owner(by)
    was_on = Cover.objects.filter(pk=cover.pk, off_at=None, on_at__isnull=False)
    asked = Cover.objects.filter(pk=cover.pk, off_at=None, on_at=None)
    if was_on.update(off_at=clock.now()):
        return _write(
            "cover-off", cover, f"cover taken off: {covered.name(cover)}", by=by
        )
    if asked.update(off_at=clock.now()):
        crew_told.settled(cover, by=by, since=None)
        return _write(
            "cover-off",
            cover,
            f"cover not wanted any more: {covered.name(cover)}",
            by=by,
        )
    raise Stale(f"The cover of {cover.job.boat.name} is off already.")


def _write(verb: str, cover: Cover, words: str, *, by: Account, actor: str = "") -> str:
    sentence = f"{cover.job.boat.name}: {words}."
    history.write(verb, f"job {cover.job.key}", sentence, by=by, actor=actor)
    return sentence
