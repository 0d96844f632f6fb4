"""The week as it stood before the last one was posted, as a draft: once posted, whoever was told otherwise is told again."""

from django.db import transaction

from dispatch.actions import access, by_hand_rows, moves, still, timeline
from dispatch.actions.board_words import dated
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Week, WeekPlan


def found(week: Week) -> WeekPlan | None:
    """The plan that stood before the one that stands; None where there was none."""
    if not week.pk or not week.plans.filter(state=WeekPlan.State.STANDING).exists():
        return None
    past = week.plans.filter(state=WeekPlan.State.PAST)
    return past.exclude(posted_at=None).order_by("-posted_at", "-id").first()


@transaction.atomic
def draft(week: Week, *, by: Account) -> WeekPlan:
    """Make a draft of the week as it stood before; nothing pretends that nobody was told meanwhile.

    Once it is posted, boats left out by hand since then are taken in again.

    Raises:
        Stranger: the account is not the owner's.
        Refused: nothing stood before, or everything is held still.
    """
    access.owner(by)
    still.refuse()
    past = found(week)
    standing = week.plans.filter(state=WeekPlan.State.STANDING).first()
    if past is None or standing is None or past.posted_at is None:
        raise Refused(
            "No other week stood here before. There is nothing to go back to."
        )
    at = dated(past.posted_at, timeline.of(week).zone)
    problem = moves.as_of_now(past)
    return by_hand_rows.draft(
        standing, past.plan, problem, f"the week as it was posted {at}", by=by
    )
