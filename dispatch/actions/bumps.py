"""Leave a job out of a week, by the owner's own hand and for a reason; and take it in again."""

from django.db import transaction
from django.db.models import F

from dispatch.actions import access, by_hand, by_hand_rows, history, moves, still
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Bump, Job, Week, WeekPlan


@transaction.atomic
def leave_out(plan: WeekPlan, job: Job, *, by: Account, why: str) -> WeekPlan:
    """Make a draft without a job's visits still to come; no build of that week plans it until it is taken in again.

    Raises:
        Stranger: the account is not the owner's.
        Refused: no reason is given, nothing of it is in the week, or everything is held still.
        Crossed: somebody else changed her visits since.
    """
    access.owner(by)
    still.refuse()
    if not why.strip():
        raise Refused(
            "Say why she is left out; it is kept with the week. Nothing was changed."
        )
    tip = by_hand_rows.tip(plan, job.key)
    answer = by_hand.try_without(tip, job.key, why.strip())
    if answer.plan is None:
        raise Refused(" ".join((f"{answer.sentence}: not possible.", *answer.why_not)))
    problem = moves.as_of_now(tip)
    made = by_hand_rows.draft(tip, answer.plan, problem, answer.sentence, by=by)
    said = {"why": why.strip()[:400], "at": made.asked_at, "by": by}
    _, new = Bump.objects.update_or_create(week=plan.week, job=job, defaults=said)
    if new:
        Job.objects.filter(pk=job.pk).update(bumped=F("bumped") + 1)
    return made


@transaction.atomic
def take_in(week: Week, job: Job, *, by: Account) -> None:
    """Let a job that was left out of a week by hand be planned in it again.

    Raises:
        Stranger: the account is not the owner's.
        Refused: it is not left out.
    """
    access.owner(by)
    if not Bump.objects.filter(week=week, job=job).delete()[0]:
        raise Refused(
            f"{job.boat.name} is not left out of this week. Nothing was changed."
        )
    Job.objects.filter(pk=job.pk, bumped__gt=0).update(bumped=F("bumped") - 1)
    history.write(
        "take-in",
        f"job {job.key}",
        f"{job.boat.name} may be planned in the week of {week.starts_on:%d %B} again.",
        by=by,
    )


def of(week: Week) -> tuple[Bump, ...]:
    """The jobs that are left out of a week by hand, with why."""
    if not week.pk:
        return ()
    rows = Bump.objects.filter(week=week).select_related("job__boat", "by__person")
    return tuple(rows)
