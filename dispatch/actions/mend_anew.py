"""What planning the rest of a standing week anew would change and cost: worked out by a task, for the snags that it mends."""

from collections.abc import Callable
from datetime import timedelta
from time import monotonic
from typing import Any

from django.db import connection, transaction
from django.utils import timezone

from dispatch.actions import (
    board_mends,
    clock,
    due,
    least_change,
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
# How often it is looked, while rows are read, whether somebody asked for a week.
_LOOK_S = 0.1


class _GaveWay(Exception):  # noqa: N818 - it reads as what happened
    """Somebody asked for a week meanwhile."""


class _Looking:
    """Gives way between two queries, so that whoever asked waits for none of the rows that are still to be read."""

    def __init__(self) -> None:
        self._next, self._at_it = monotonic(), False

    def __call__(self, execute: Callable[..., object], *args: Any) -> object:  # noqa: ANN401 - Django's own
        """Run a query, after a look where one is due again; the look's own query is run as it is."""
        if not self._at_it and monotonic() >= self._next:
            self._at_it = True
            try:
                _give_way()
            finally:
                self._next, self._at_it = monotonic() + _LOOK_S, False
        return execute(*args)


def later(plan: WeekPlan, board: Board) -> None:
    """Have a task price it where a snag of a standing week wants it; else forget what was kept."""
    if plan.state == WeekPlan.State.STANDING and any(one.anew for one in board.snags):
        due.put(VERB, str(plan.pk))
    else:
        Mend.objects.filter(plan=plan, snag=board_mends.ANEW).delete()


def price(key: str) -> None:
    """Plan the rest of a standing week, keep what that changes and costs, and let the plan itself go.

    It gives way to a week that somebody asked for, within a second: it stops, and is done once that is built.
    """
    standing = WeekPlan.objects.filter(
        pk=int(key), state=WeekPlan.State.STANDING
    ).first()
    if standing is None:
        return
    try:
        _give_way()
        with connection.execute_wrapper(_Looking()):
            row = _priced(standing)
        _give_way()
    except _GaveWay:
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


def _give_way() -> bool:
    """Stop here where somebody asked for a week; a search that is under way is killed, as nobody wants what it found."""
    if _asked_for():
        raise _GaveWay
    return False


def _draft(standing: WeekPlan) -> WeekPlan:
    """The draft that the tap would make, unsaved: the same search, the same seconds and seed."""
    problem = snapshot.rest(standing.week, standing)
    answer = solving.solve(
        problem,
        seconds=replanning.SECONDS,
        workers=_WORKERS,
        seed=1,
        should_stop=_give_way,
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
