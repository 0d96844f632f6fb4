"""Plan what is left of a standing week anew: a draft with the fewest changes for those who were told."""

from django.db import IntegrityError, transaction

from dispatch.actions import access, bump_rows, clock, due, history, planning, timeline
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Week, WeekPlan

# A few seconds of search find what a small change asks for; with all that is around them the owner waits less than ten.
SECONDS = 3


@transaction.atomic
def ask(
    week: Week, *, by: Account, cause: str = "", seconds: int = SECONDS, seed: int = 1
) -> WeekPlan:
    """Ask for a draft of what is left of a standing week, from now on; a task builds it. Nobody is told.

    What was done or is under way stays as it is; what people were told is kept where it can be. ``cause`` is
    what led to it, kept with the draft.

    Raises:
        Stranger: the account is not the owner's.
        Refused: the week does not stand, is over, or is being built already.
    """
    access.owner(by)
    standing = week.plans.filter(state=WeekPlan.State.STANDING).first()
    if standing is None:
        raise Refused("No week stands here yet. Build the week and post it first.")
    timeline.refuse_gone(week)
    try:
        with transaction.atomic():
            plan = WeekPlan.objects.create(
                week=week,
                asked_by=by,
                asked_at=clock.now(),
                seconds=seconds,
                seed=seed,
                origin=standing,
                rest=True,
                cause=cause.strip(),
            )
    except IntegrityError as error:
        raise Refused(
            "This week is being built already. Wait for it, or stop it."
        ) from error
    due.put(planning.VERB, str(plan.pk))
    history.write(
        "ask-rest",
        f"week {week.starts_on}",
        f"Asked for the rest of the week of {week.starts_on:%d %B} to be planned anew.",
        by=by,
        why=plan.cause,
    )
    return plan


@transaction.atomic
def leave(plan: WeekPlan, *, by: Account) -> None:
    """Leave a draft aside, and any built before it: what stands goes on standing.

    Raises:
        Stranger: the account is not the owner's.
        Refused: it is no draft.
    """
    access.owner(by)
    rows = WeekPlan.objects.filter(pk=plan.pk, state=WeekPlan.State.DRAFT)
    if not rows.update(state=WeekPlan.State.LEFT):
        raise Refused("Only a draft can be left aside. Nothing was changed.")
    bump_rows.left_aside(plan)
    # One built before it would stand in its place.
    older = plan.week.plans.filter(state=WeekPlan.State.DRAFT)
    older.update(state=WeekPlan.State.LEFT)
    history.write(
        "leave-draft",
        f"week {plan.week.starts_on}",
        f"Left a draft of the week of {plan.week.starts_on:%d %B} aside.",
        by=by,
    )
