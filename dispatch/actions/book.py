"""The book of jobs: take a job, hand it back."""

from datetime import datetime, timedelta
from typing import TypedDict, Unpack

from django.db import transaction

from dispatch.actions import (
    agreeing,
    announcing,
    asked_prices,
    clock,
    due,
    history,
    reminders,
    stages,
    turns,
)
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Boat, Job, JobKind, Sheet, Stage
from dispatch.trade import numbers

_REPAIR_SIZES = {"S", "M", "L"}
_FARTHEST = timedelta(days=3 * 366)


class Terms(TypedDict, total=False):
    """What a job may be taken on; whatever is left out keeps the table's default."""

    sheet: Sheet | None
    grade: int
    repairs: dict[str, int]
    panels: int
    sides_only: bool
    promise: str
    promised_from: datetime | None
    promised_by: datetime | None
    fixed_start: datetime | None
    price_cents: int
    late_cents_per_hour: int
    unfinished_cents: int
    bumped: int
    note: str
    state: str


@transaction.atomic
def take_job(
    *,
    key: str,
    boat: Boat,
    kind: JobKind,
    now: datetime | None = None,
    by: Account | None = None,
    **terms: Unpack[Terms],
) -> Job:
    """Take a job into the book and make its stages; all or nothing.

    Raises:
        Refused: the boat, place, product and kind of job do not go together.
    """
    if Job.objects.filter(key=key).exists():
        raise Refused(f"There is a job {key} already. Give this one another number.")
    check_terms(kind, terms)
    job = Job.objects.create(
        key=key, boat=boat, kind=kind, taken_at=now or clock.now(), **terms
    )
    made = stages.make(job)
    for stage in made:
        due.put("judge-stage", str(stage.pk))
    turns.aim(job)
    asked_prices.later(job)
    # The ways of doing a visit are one visit.
    visits = len({stage.position for stage in made if not stage.extra})
    history.write(
        "take-job",
        f"job {key}",
        " ".join(
            (
                f"Took {kind.name} for {boat.name}: {visits} visit{'' if visits == 1 else 's'}.",
                *_doubts(boat),
            )
        ),
        by=by,
    )
    if by is not None:
        # What a scenario or a keeper loads was agreed long ago.
        agreeing.told(job)
    return job


@transaction.atomic
def mark_done(
    stage: Stage,
    *,
    started_at: datetime | None,
    ended_at: datetime,
    by: Account | None = None,
) -> None:
    """Store that a stage was done, when it happened rather than when it was told.

    Raises:
        Refused: it ended before it started, or in the future.
    """
    if ended_at > clock.now() or (started_at and started_at > ended_at):
        raise Refused(
            f"{stage.name} cannot have ended at {ended_at:%d %b %H:%M}. Check the times."
        )
    Stage.objects.filter(pk=stage.pk).update(
        state=Stage.State.DONE, started_at=started_at, ended_at=ended_at
    )
    Job.objects.filter(pk=stage.job_id, state=Job.State.AGREED).update(
        state=Job.State.IN_HAND
    )
    _end(stage.job)
    turns.lies_now(stage)
    history.write(
        "finish-stage",
        f"job {stage.job.key}",
        f"{stage.name} done on {stage.job.boat.name}.",
        by=by,
    )


def _doubts(boat: Boat) -> tuple[str, ...]:
    """What looks wrong with her registration where there is one; a job is taken all the same."""
    doubt = numbers.doubt(boat.registration) if boat.registration else ""
    return (doubt,) if doubt else ()


def check_terms(kind: JobKind, terms: Terms) -> None:
    """Check that a kind of job and what it is taken on go together.

    Raises:
        Refused: they do not.
    """
    grade, repairs = terms.get("grade", 2), terms.get("repairs", {})
    if not 1 <= grade <= 4:
        raise Refused(
            f"Grade {grade} is not known. Use 1 (glossy), 2 (dull), 3 (chalks) or 4 (peeling)."
        )
    if kind.sprays and terms.get("sheet") is None:
        raise Refused(f"{kind.name} needs a product. Choose its sheet.")
    if not kind.rows.exists():
        raise Refused(
            f"The catalogue has no steps for {kind.name}. Load the catalogue first."
        )
    wrong = {
        size: count
        for size, count in repairs.items()
        if size not in _REPAIR_SIZES or count < 0
    }
    if wrong:
        raise Refused(f"Repairs {wrong} are not known. Count them as S, M and L.")
    _check_days(terms)


def _check_days(terms: Terms) -> None:
    """Refuse a promise without its day, days the wrong way round, and days that are a slip of the pen."""
    first, last = terms.get("promised_from"), terms.get("promised_by")
    if terms.get("promise", Job.Promise.NONE) != Job.Promise.NONE and last is None:
        raise Refused("A promise needs its day. Say by when.")
    if first and last and first > last:
        raise Refused(
            f"The promise ends on {last:%d %B %Y}, before it begins. Check the days."
        )
    for moment in (first, last, terms.get("fixed_start")):
        if moment:
            check_moment(moment)


def check_moment(moment: datetime) -> None:
    """Refuse a moment that is a slip of the pen.

    Raises:
        Refused: it is more than three years away.
    """
    if abs(moment - clock.now()) > _FARTHEST:
        raise Refused(
            f"{moment:%d %B %Y} is more than three years away. Check the year."
        )


def _end(job: Job) -> None:
    """Hand a job back once everything of the way it was done is done, and tell the customer."""
    left = job.stages.exclude(state=Stage.State.DONE).filter(extra=False)
    ways = set(
        job.stages.filter(state=Stage.State.DONE)
        .exclude(variant="")
        .values_list("variant", flat=True)
    )
    still = [
        stage
        for stage in left
        if not stage.variant or stage.variant in ways or not ways
    ]
    if still:
        return
    Job.objects.filter(pk=job.pk).update(
        state=Job.State.HANDED_BACK, handed_back_at=clock.now()
    )
    announcing.finished(job)
    reminders.yearly(job)
