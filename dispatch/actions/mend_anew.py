"""What planning the rest of a standing week anew would change and cost: worked out by a task, for the snags that it mends."""

from datetime import timedelta

from django.db import transaction
from django.utils import timezone

from dispatch.actions import (
    board_mends,
    clock,
    due,
    least_change,
    one_moment,
    planning,
    replanning,
    snapshot,
    solving,
    timeline,
    what_changes,
)
from dispatch.actions.board import Board
from dispatch.actions.errors import Refused
from dispatch.records.models import Mend, WeekPlan

VERB = "price-anew"
_WORKERS = 2
# What gave way is looked at again after so long.
_AGAIN = timedelta(seconds=10)


def later(plan: WeekPlan, board: Board) -> None:
    """Have a task price it where a snag of a standing week wants it; else forget what was kept."""
    if plan.state == WeekPlan.State.STANDING and any(one.anew for one in board.snags):
        due.put(VERB, str(plan.pk))
    else:
        Mend.objects.filter(plan=plan, snag=board_mends.ANEW).delete()


def price(key: str) -> None:
    """Plan the rest of a standing week, keep what that changes and costs, and let the plan itself go.

    It gives way to a week that somebody asked for: it stops, and is done once that is built.
    """
    standing = WeekPlan.objects.filter(
        pk=int(key), state=WeekPlan.State.STANDING
    ).first()
    if standing is None:
        return
    row = None if _asked_for() else _priced(standing)
    if row is None or _asked_for():
        due.put(VERB, key, due_at=timezone.now() + _AGAIN)
        return
    row.plan, row.snag, row.at = standing, board_mends.ANEW, clock.now()
    with transaction.atomic():
        Mend.objects.filter(plan=standing, snag=board_mends.ANEW).delete()
        row.save()


def _priced(standing: WeekPlan) -> Mend:
    try:
        return _row(standing, _draft(standing))
    except Refused as refusal:
        return Mend(words=f"The rest could not be planned anew: {refusal}"[:400])


def _asked_for() -> bool:
    """Whether a week that somebody asked for waits to be built, or is being built."""
    return due.is_open(planning.VERB)


def _draft(standing: WeekPlan) -> WeekPlan:
    """The draft that the tap would make, unsaved: the same search, the same seconds and seed."""
    with one_moment.held():
        problem = snapshot.rest(standing.week, standing)
    answer = solving.solve(
        problem,
        seconds=replanning.SECONDS,
        workers=_WORKERS,
        seed=1,
        should_stop=_asked_for,
    )
    return WeekPlan(
        week=standing.week,
        state=WeekPlan.State.DRAFT,
        problem=problem,
        plan=least_change.settled(problem, answer, standing.plan),
        zero_at=timeline.of(standing.week).zero,
        rest=True,
        origin=standing,
    )


def _row(standing: WeekPlan, draft: WeekPlan) -> Mend:
    made = what_changes.of(draft, standing)
    seen = [one for one in made.visits if one.kind != "near"]
    visits, hands = len(seen), len(made.people)
    known = made.cents is not None
    return Mend(
        words=f"Planned anew, {visits or 'no'} visit{'' if visits == 1 else 's'} "
        f"and the days of {hands or 'no'} {'person' if hands == 1 else 'people'} change",
        cents=made.total if known else 0,
        ask={"do": "anew", "priced": known},
    )
