"""The crew cannot get to a boat: it waits a while, shows the gate, goes on waiting or leaves her for the owner."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from django.db import transaction

from dispatch.actions import (
    access,
    board_words,
    held_for_owner,
    history,
    photos,
    rates,
    reporting,
)
from dispatch.actions.errors import Refused, Stale
from dispatch.records.models import Account, Person, Photo, ShutOut, Stage

_MOST_AT_ONCE = 10


@transaction.atomic
def wait(stage: Stage, person: Person, at: datetime) -> ShutOut:
    """Store that somebody cannot get to a boat, and begin the wait; the owner sees it on the board.

    Raises:
        Stranger: the person neither rides in that van that day nor owns the outfit.
        Refused: the time cannot be right, or the visit is begun already.
        Stale: it was told before.
    """
    by = _reporter(stage, person, at)
    boat = stage.job.boat.name
    if stage.state != Stage.State.TO_DO:
        raise Refused(
            f"{stage.name} on {boat} is begun already. Tell the owner under “Something is wrong” instead."
        )
    row, new = ShutOut.objects.get_or_create(
        job=stage.job,
        over_at=None,
        defaults={
            "stage": stage,
            "person": person,
            "since": at,
            "until": at + _wait(),
        },
    )
    if not new:
        raise Stale(
            f"That nobody can get to {boat} was told already, {_when(row, row.since)}. Nothing was changed."
        )
    told = f"{person.name} cannot get to {boat} since {_when(row, at)} and waits until {_when(row, row.until)}."
    _write("shut-out", row, told, by, person)
    return row


@transaction.atomic
def go_on(stage: Stage, person: Person, at: datetime) -> ShutOut:
    """Wait as long again.

    Raises:
        Stranger: the person neither rides in that van that day nor owns the outfit.
        Refused: nobody waits there, or the time cannot be right.
        Stale: she was left meanwhile.
    """
    by, row = _reporter(stage, person, at), _waiting(stage)
    row.until = max(row.until, at) + _wait()
    row.save(update_fields=["until"])
    told = f"{person.name} waits on at {stage.job.boat.name}, until {_when(row, row.until)}."
    _write("wait-on", row, told, by, person)
    return row


@transaction.atomic
def leave(stage: Stage, person: Person, at: datetime) -> ShutOut:
    """Store that the crew leaves a boat that it could not get to: she is held for the owner, and no week plans her till then.

    Raises:
        Stranger: the person neither rides in that van that day nor owns the outfit.
        Refused: nobody waits there, the time cannot be right, or the wait is not over; the owner may shorten it.
        Stale: she was left meanwhile.
    """
    by, row = _reporter(stage, person, at), _waiting(stage)
    if at < row.since:
        raise Refused(
            f"The wait began {_when(row, row.since)}, later than {_when(row, at)}. Enter the time you left."
        )
    if at < row.until and not access.is_owner(by):
        raise Refused(
            f"The wait is until {_when(row, row.until)}, and this is of {_when(row, at)}. "
            "Call her owner meanwhile; ours may let you go sooner."
        )
    mine = ShutOut.objects.filter(pk=row.pk, left_at=None, over_at=None)
    if not mine.update(left_at=at):
        raise Stale(f"{stage.job.boat.name} was left already. Nothing was changed.")
    row.left_at = at
    long = board_words.lasting((at - row.since) / timedelta(minutes=1))
    told = (
        f"{person.name} waited {long} and left {stage.job.boat.name} {_when(row, at)}, as nobody could get to her: "
        "she is held for the owner."
    )
    _write("leave-shut-out", row, told, by, person)
    return row


@transaction.atomic
def show(stage: Stage, person: Person, sent: Sequence[bytes]) -> list[Photo]:
    """Keep photos of what keeps the crew from a boat.

    Raises:
        Stranger: the person neither rides in that van that day nor owns the outfit.
        Refused: nobody waits there or left her, none was sent, or one will not do.
    """
    by, row = reporting.reporter(stage, person), _row(stage)
    if not sent:
        raise Refused("No photo was chosen. Take one of the gate first.")
    if len(sent) > _MOST_AT_ONCE:
        raise Refused(f"Send at most {_MOST_AT_ONCE} photos at once.")
    kept = photos.keep(
        stage.job.boat, sent, words=f"{stage.name}: nobody could get to her"
    )
    row.photos.add(*kept)
    many = "a photo" if len(kept) == 1 else f"{len(kept)} photos"
    told = f"{person.name} sent {many} of what keeps them from {stage.job.boat.name}."
    _write("show-shut-out", row, told, by, person)
    return kept


def _wait() -> timedelta:
    return timedelta(minutes=rates.crew().gate_wait_minutes)


def _reporter(stage: Stage, person: Person, at: datetime) -> Account | None:
    reporting.check_time(stage, at)
    return reporting.reporter(stage, person)


def _row(stage: Stage) -> ShutOut:
    row = held_for_owner.of(stage)
    if row is None:
        raise Refused(
            f"Nobody waits for {stage.job.boat.name} as far as is known. Tell first that you cannot get to her."
        )
    return row


def _waiting(stage: Stage) -> ShutOut:
    row = _row(stage)
    if row.left_at is not None:
        raise Stale(
            f"{stage.job.boat.name} was left {_when(row, row.left_at)} already. Nothing was changed."
        )
    return row


def _when(row: ShutOut, at: datetime) -> str:
    return board_words.when(at, ZoneInfo(row.job.boat.place.time_zone))


def _write(
    verb: str, row: ShutOut, told: str, by: Account | None, person: Person
) -> None:
    history.write(verb, f"job {row.job.key}", told, by=by, actor=person.name)
