"""What the crew reports from the boat: a visit was started, a visit was finished."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from django.db import transaction

from dispatch.actions import (
    access,
    announcing,
    as_sent,
    book,
    clock,
    coats,
    held_for_owner,
    history,
    holds,
    laid_anew,
    owner_told,
    ready,
    recoat,
    second_coat,
)
from dispatch.actions.errors import Refused, Stale, Stranger
from dispatch.records.models import Account, Job, Outfit, Person, Stage, Visit
from dispatch.trade import units
from dispatch.trade.words import Words

_OLDEST = timedelta(days=7)
_MOST_TIMES_PLANNED = 10


@transaction.atomic
def start(stage: Stage, person: Person, at: datetime) -> None:
    """Store that a visit was started, when it happened rather than when it was told.

    What the page said of the sky at that moment is kept as the history's reason.

    Raises:
        Stranger: the person neither rides in that van that day nor owns the outfit.
        Refused: the time cannot be right, or the stage is in no posted week.
        Stale: it was reported started or done before.
    """
    by, visit = _taking(stage, person, at)
    said = ready.of(visit, at)
    todo = Stage.objects.filter(pk=stage.pk, state=Stage.State.TO_DO)
    if not todo.update(state=Stage.State.UNDER_WAY, started_at=at):
        raise Stale(_told_before(stage))
    held_for_owner.over(stage.job)
    Job.objects.filter(pk=stage.job_id, state=Job.State.AGREED).update(
        state=Job.State.IN_HAND
    )
    history.write(
        "start-stage",
        f"job {stage.job.key}",
        f"{person.name} started {stage.name} on {stage.job.boat.name} at {_local(stage, at)}.",
        by=by,
        actor=person.name,
        why=f"{said.word}: {said.sentence}",
    )


@transaction.atomic
def coat_on(
    stage: Stage, person: Person, at: datetime, ounces: float | None = None
) -> None:
    """Store when the first of two coats was on, with the US fluid ounces it took; the wait for the second counts from then.

    Raises:
        Stranger: the person neither rides in that van that day nor owns the outfit.
        Refused: the time or the amount cannot be right, or the visit is not under way with a coat to follow.
        Stale: it was reported before.
    """
    by, _ = _taking(stage, person, at)
    check_amount(stage, ounces)
    if not stage.flashes:
        raise Refused(f"{stage.name} has one coat only. Report it done.")
    if coats.reported(stage) or stage.state == Stage.State.DONE:
        raise Stale(
            f"The first coat of {stage.name} is reported already. Nothing was changed."
        )
    if stage.started_at is None or at < stage.started_at:
        raise Refused(
            f"{stage.name} had not been started by {_local(stage, at)}. Report its start first."
        )
    coats.lay_first(stage, at, ounces, by=by, actor=person.name)
    history.write(
        "coat-on",
        f"job {stage.job.key}",
        f"{stage.name} on {stage.job.boat.name}: first coat on at {_local(stage, at)}.",
        by=by,
        actor=person.name,
    )


@transaction.atomic
def finish(
    stage: Stage, person: Person, at: datetime, ounces: float | None = None
) -> None:
    """Store that a visit was finished, when it happened, with the US fluid ounces it took.

    Film sets from then on, the customer is told to keep off it, and the product is taken out of the
    stores: the amount told, else the estimate; of the second coat alone where the first was reported. A second
    coat that was laid later than its sheet lets it be is kept as what happened, and both are laid anew.

    Raises:
        Stranger: the person neither rides in that van that day nor owns the outfit.
        Refused: the time or the amount cannot be right, or the stage is in no posted week.
        Stale: it was reported done before.
    """
    by, _ = _taking(stage, person, at)
    check_amount(stage, ounces)
    second_coat.refuse_none(stage, ounces)
    if stage.laid_anew_by is not None and not _came_late(stage, at):
        stage = laid_anew.take_back(stage)
    open_row = Stage.objects.filter(pk=stage.pk).exclude(state=Stage.State.DONE)
    # Takes the row, so that of two reports of one visit only the first counts.
    if not open_row.update(state=Stage.State.UNDER_WAY):
        raise Stale(_told_before(stage))
    stage.refresh_from_db()
    held_for_owner.over(stage.job)
    coats.lay_last(stage, at, ounces, by=by, actor=person.name)
    if laid_anew.too_late(stage, at):
        laid_anew.again(stage, at, actor=person.name)
        return
    # Before the job may end: who is told to collect her is told by the film she carries.
    holds.write(stage, at, planned=False)
    book.mark_done(stage, started_at=stage.started_at, ended_at=at, by=by)
    announcing.film_wet(stage)
    owner_told.of_job(stage.job)


def _came_late(late: Stage, at: datetime) -> bool:
    """Whether the second coat, told of only now, was laid after the last moment for it."""
    latest = recoat.latest(late)
    return latest is None or at > latest


def check_amount(stage: Stage, ounces: float | None) -> None:
    """Refuse US fluid ounces that a stage cannot have taken.

    Raises:
        Refused: it lays no product, or the amount cannot be right.
    """
    if ounces is None:
        return
    if stage.sheet is None:
        raise Refused(f"{stage.name} lays no product. Leave the amount empty.")
    most = max(stage.product_ml * _MOST_TIMES_PLANNED, stage.sheet.pack_ml)
    if not 0 <= units.oz_to_ml(ounces) <= most:
        planned = (
            f"{_volume(stage.product_ml)} was planned"
            if stage.product_ml
            else f"how much was planned is not known, and a pack holds {_volume(stage.sheet.pack_ml)}"
        )
        raise Refused(
            f"{_volume(units.oz_to_ml(ounces))} of {stage.sheet.name} cannot be right; {planned}. Check the number."
        )


def may_report(stage: Stage, person: Person) -> bool:
    """Whether a person rides in the van of a stage's visit that day, or owns the outfit."""
    visit = getattr(stage, "visit", None)
    return access.is_owner(_account(person)) or (
        visit is not None and visit.van_day.team.filter(pk=person.pk).exists()
    )


def reporter(stage: Stage, person: Person) -> Account | None:
    """The account of somebody who may tell what happened at a stage's boat.

    Raises:
        Stranger: the person neither rides in the van of its visit that day nor owns the outfit.
        Refused: the stage is in no posted week.
    """
    return _reporter(stage, person)[0]


def _taking(stage: Stage, person: Person, at: datetime) -> tuple[Account | None, Visit]:
    """Who reports, and the visit it is of: where a week posted before sent them to it that day, it goes back there."""
    check_time(stage, at)
    visit = Visit.objects.filter(stage=stage).select_related("van_day__van").first()
    if stage.state == Stage.State.TO_DO and (
        as_sent.stands_elsewhere(stage, visit, at) or not may_report(stage, person)
    ):
        sent = as_sent.found(stage, person, at)
        if sent is not None:
            by = _account(person)
            return by, as_sent.bring_back(stage, visit, sent, person, by)
    return _reporter(stage, person)


def _reporter(stage: Stage, person: Person) -> tuple[Account | None, Visit]:
    visit = Visit.objects.filter(stage=stage).select_related("van_day__van").first()
    if not may_report(stage, person):
        where = f"van {visit.van_day.van} that day" if visit else "that visit"
        raise Stranger(
            f"Only the people of {where}, or the owner, may report {stage.name}. Ask one of them."
        )
    if visit is None:
        raise Refused(f"{stage.name} is in no posted week. Post a week with it first.")
    return _account(person), visit


def _account(person: Person) -> Account | None:
    return Account.objects.filter(person=person).first()


def check_time(stage: Stage, at: datetime) -> None:
    """Refuse a moment that has not come, or that lies too far back.

    Raises:
        Refused: the time cannot be right.
    """
    now = clock.now()
    if at > now:
        raise Refused(
            f"{_local(stage, at)} has not come yet; it is {_local(stage, now)}. Report what has happened."
        )
    if at < now - _OLDEST:
        raise Refused(
            f"{_local(stage, at)} is more than {_OLDEST.days} days ago. Check the time, or tell the owner."
        )


def _volume(millilitres: float) -> str:
    return Words(system=Outfit.objects.get().units).volume(millilitres)


def _told_before(stage: Stage) -> str:
    stage.refresh_from_db()
    latest = recoat.latest(stage) if stage.laid_anew_by is not None else None
    if latest is not None:
        return (
            f"The second coat had to be on by {_local(stage, latest)}, so both are laid anew. Nothing was changed: "
            "tell the owner what was laid."
        )
    if stage.state == Stage.State.DONE and stage.ended_at:
        return f"{stage.name} is reported done at {_local(stage, stage.ended_at)} already. Nothing was changed."
    at = _local(stage, stage.started_at) if stage.started_at else "an unknown time"
    return f"{stage.name} is reported started at {at} already. Nothing was changed."


def _local(stage: Stage, moment: datetime) -> str:
    zone = ZoneInfo(stage.job.boat.place.time_zone)
    return f"{moment.astimezone(zone):%a %H:%M}"
