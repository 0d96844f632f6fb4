"""A report that was of another boat, or a slip, taken back within its day; and put to the boat it was of."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from django.db import transaction

from dispatch.actions import (
    amounts,
    calling,
    clock,
    coats,
    due,
    history,
    holds,
    reporting,
)
from dispatch.actions.errors import Refused, Stale
from dispatch.actions.recipes import TURN
from dispatch.notices.reasons import Reason
from dispatch.records.models import (
    Hold,
    Job,
    Laid,
    Notice,
    Outfit,
    Person,
    Photo,
    Stage,
    Visit,
)
from dispatch.trade import units
from dispatch.trade.words import Words

_STARTED, _COAT, _DONE = "started", "its first coat on", "done"


@dataclass(frozen=True, kw_only=True)
class Told:
    """What was reported of a stage last: in words, and of which moment."""

    what: str
    at: datetime


@dataclass(frozen=True, kw_only=True)
class Mistake:
    """A report that may be taken back, and the stages it may have been of instead: number, boat and name of each."""

    told: str
    others: tuple[tuple[int, str], ...]


@dataclass(frozen=True, kw_only=True)
class _All:
    """Everything that was reported of a stage."""

    started_at: datetime | None
    ended_at: datetime | None
    laid: tuple[Laid, ...]


def last(stage: Stage) -> Told | None:
    """What was reported of a stage last, where it may be taken back: of today, with nothing laid anew of it since."""
    told = _last(stage)
    if told is None or stage.laid_anew_by_id is not None:
        return None
    zone = stage.job.boat.place.time_zone
    today = told.at.astimezone(ZoneInfo(zone)).date() == clock.today(zone)
    return told if today else None


def offered(stage: Stage) -> Mistake | None:
    """What the crew may take back of a stage, and whose it may have been; None where there is nothing of today."""
    told = last(stage)
    if told is None:
        return None
    named = ((one.pk, f"{one.job.boat.name}: {one.name}") for one in others(stage))
    return Mistake(told=_words(stage, told), others=tuple(named))


def others(stage: Stage) -> list[Stage]:
    """The stages of other boats that the same van is to do that day and nobody began: where a report may belong."""
    visit = Visit.objects.filter(stage=stage).select_related("van_day").first()
    if visit is None:
        return []
    rows = visit.van_day.visits.filter(stage__state=Stage.State.TO_DO)
    found = rows.exclude(stage__job__boat=stage.job.boat).select_related(
        "stage__job__boat__place", "stage__sheet"
    )
    return [one.stage for one in found.order_by("start")]


@transaction.atomic
def take_back(stage: Stage, person: Person) -> None:
    """Take back what was reported of a stage last; cans, film, the job and messages that wait go back with it.

    What went out to the customer is not unsaid: the owner is asked to call.

    Raises:
        Stranger: the person neither rides in that van that day nor owns the outfit.
        Refused: there is nothing of today to take back, or the next stage is begun by it.
        Stale: somebody reported of it meanwhile.
    """
    by = reporting.reporter(stage, person)
    told = last(stage)
    if told is None:
        raise Refused(
            f"Nothing was reported of {stage.name} today that can be taken back. Tell the owner."
        )
    if told.what == _DONE:
        said = _not_done(stage)
    elif told.what == _COAT:
        said = _coats_off(stage)
    else:
        said = _not_started(stage)
    due.put("judge-stage", str(stage.pk))
    history.write(
        "take-back-report",
        f"job {stage.job.key}",
        " ".join(
            (
                f"{person.name} takes back that {stage.name} on {stage.job.boat.name} was {_words(stage, told)}.",
                *said,
            )
        ),
        by=by,
        actor=person.name,
    )


@transaction.atomic
def put_to(stage: Stage, other: Stage, person: Person) -> None:
    """Take back all that was reported of a stage, and report the same of the boat it was of; photos go with it.

    Raises:
        Stranger: the person neither rides in that van that day nor owns the outfit.
        Refused: it cannot be taken back, or not be so of the other one.
    """
    if other.pk not in {one.pk for one in others(stage)}:
        raise Refused(
            f"{other.name} on {other.job.boat.name} is begun already, or not on your route. Choose another."
        )
    was = _All(
        started_at=stage.started_at,
        ended_at=stage.ended_at,
        laid=tuple(stage.laid.all()),
    )
    _photos(stage, other, was)
    take_back(stage, person)
    while _last(left := _fresh(stage)) is not None:
        take_back(left, person)
    _again(other, was, person)


def _again(other: Stage, was: _All, person: Person) -> None:
    """Report of another stage what was reported of the wrong one, coat by coat."""
    amounts_told = {row.coat: row for row in was.laid}
    if was.started_at is not None:
        reporting.start(other, person, was.started_at)
    first = amounts_told.get(coats.FIRST)
    if first is not None and other.flashes:
        reporting.coat_on(_fresh(other), person, first.ended_at, _oz(other, first))
    if was.ended_at is not None:
        row = amounts_told.get(coats.SECOND) or amounts_told.get(coats.BOTH)
        reporting.finish(_fresh(other), person, was.ended_at, _oz(other, row))


def _oz(other: Stage, row: Laid | None) -> float | None:
    """What a coat took, where the other stage lays any product and somebody measured it."""
    if row is None or row.used_ml is None or other.sheet is None:
        return None
    return units.ml_to_oz(row.used_ml)


def _photos(stage: Stage, other: Stage, was: _All) -> None:
    """Photos told of the stage since it was begun are of the other boat."""
    since = was.started_at or was.ended_at
    if since is not None:
        rows = Photo.objects.filter(boat=stage.job.boat, taken_at__gte=since)
        rows.filter(words__startswith=f"{stage.name}: ").update(boat=other.job.boat)


def _last(stage: Stage) -> Told | None:
    if stage.state == Stage.State.DONE and stage.ended_at:
        return Told(what=_DONE, at=stage.ended_at)
    if stage.state != Stage.State.UNDER_WAY or stage.started_at is None:
        return None
    first = next((row for row in stage.laid.all() if row.coat == coats.FIRST), None)
    if first is not None:
        return Told(what=_COAT, at=first.ended_at)
    return Told(what=_STARTED, at=stage.started_at)


def _words(stage: Stage, told: Told) -> str:
    at = told.at.astimezone(ZoneInfo(stage.job.boat.place.time_zone))
    has = "reported with " if told.what == _COAT else ""
    return f"{has}{told.what} at {at:%a %H:%M}"


def _not_started(stage: Stage) -> Sequence[str]:
    _set(stage, Stage.State.UNDER_WAY, state=Stage.State.TO_DO, started_at=None)
    _agreed_again(stage)
    return ()


def _coats_off(stage: Stage) -> Sequence[str]:
    _set(stage, Stage.State.UNDER_WAY, state=Stage.State.UNDER_WAY)
    return tuple(_back_into_the_cans(stage, (coats.FIRST,)))


def _not_done(stage: Stage) -> Sequence[str]:
    """A finished stage as it was before: under way, or to do where nobody reported its start."""
    begun = stage.followers.exclude(stage__state=Stage.State.TO_DO).first()
    if begun is not None:
        raise Refused(
            f"{begun.stage.name} on {stage.job.boat.name} was begun after it. Take that back first, or tell the owner."
        )
    _set(
        stage,
        Stage.State.DONE,
        state=Stage.State.UNDER_WAY if stage.started_at else Stage.State.TO_DO,
        ended_at=None,
    )
    cans = tuple(_back_into_the_cans(stage, (coats.SECOND, coats.BOTH)))
    Hold.objects.filter(stage=stage).delete()
    planned = Visit.objects.filter(stage=stage).first()
    if planned is not None:
        holds.write(stage, planned.end, planned=True)
    Job.objects.filter(pk=stage.job_id, state=Job.State.HANDED_BACK).update(
        state=Job.State.IN_HAND, handed_back_at=None
    )
    _agreed_again(stage)
    _unsay(stage)
    turned = stage.key.startswith(TURN.visit)
    heads = (
        f"She is noted as turned still: read which way {stage.job.boat.name} heads.",
    )
    return (*cans, *(heads if turned else ()))


def _set(stage: Stage, before: str, **values: object) -> None:
    """Change a stage as it was seen; of two people only one takes a report back.

    Raises:
        Stale: somebody reported of it meanwhile.
    """
    seen = Stage.objects.filter(pk=stage.pk, state=before, ended_at=stage.ended_at)
    if not seen.update(**values):
        raise Stale(
            f"Somebody reported of {stage.name} meanwhile. Nothing was changed; look again."
        )


def _agreed_again(stage: Stage) -> None:
    """A job of which nothing is begun any more is agreed, as before."""
    begun = Stage.objects.filter(job=stage.job_id).exclude(state=Stage.State.TO_DO)
    if not begun.exists():
        Job.objects.filter(pk=stage.job_id, state=Job.State.IN_HAND).update(
            state=Job.State.AGREED
        )


def _back_into_the_cans(stage: Stage, which: Sequence[int]) -> Iterator[str]:
    words = Words(system=Outfit.objects.get().units)
    for row in Laid.objects.select_for_update().filter(stage=stage, coat__in=which):
        took = coats.share(stage, row.coat).planned_ml
        used = took if row.used_ml is None else row.used_ml
        row.delete()
        if stage.sheet is not None and used:
            yield f"{words.volume(used)} of {stage.sheet}: {amounts.cans(stage.sheet, row.ended_at, -used)}"


def _unsay(stage: Stage) -> None:
    """Drop what was to be told of it and has not gone out; have the owner call where it has."""
    job = stage.job
    facts = {
        Reason.FILM_WET: f"{job.key} film {stage.key}",
        Reason.PICKUP: f"{job.key} pickup",
        Reason.YEARLY: f"{job.key} yearly",
    }
    for reason, fact in facts.items():
        rows = Notice.objects.filter(job=job, reason=reason, fact=fact)
        rows.filter(state=Notice.State.WAITING).update(state=Notice.State.DROPPED)
        if rows.exclude(
            state__in=(Notice.State.DROPPED, Notice.State.REFUSED)
        ).exists():
            calling.ask(
                job,
                f"{job.boat.name}: {stage.name} was reported done by mistake, and a message about it went out.",
                "Tell {customer} by hand that it is not done.",
            )


def _fresh(stage: Stage) -> Stage:
    rows = Stage.objects.select_related("job__boat__place", "sheet")
    return rows.get(pk=stage.pk)
