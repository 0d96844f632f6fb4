"""What would mend a plan's snags and what that costs: worked out by a task, kept with its age, shown on the board."""

from collections.abc import Iterator

from django.db import transaction

from dispatch.actions import (
    board_reading,
    clock,
    mend_search,
    one_moment,
    show_board,
)
from dispatch.actions.errors import Refused
from dispatch.actions.mend_search import Found
from dispatch.records.models import Mend, WeekPlan

_OPEN = (WeekPlan.State.DRAFT, WeekPlan.State.STANDING)


def price(key: str) -> None:
    """Work out the mends of a plan's snags and store them in place of what was kept; of one that is no longer open nothing."""
    plan = WeekPlan.objects.filter(pk=int(key), state__in=_OPEN).first()
    if plan is None or not plan.plan:
        return
    with one_moment.held():
        rows = [_row(plan, about, found) for about, found in _found(plan)]
    with transaction.atomic():
        Mend.objects.filter(plan=plan).delete()
        Mend.objects.bulk_create(rows)


def _found(plan: WeekPlan) -> Iterator[tuple[str, Found]]:
    reading = board_reading.read(plan)
    abouts = dict.fromkeys(
        one.about for one in show_board.board(plan).snags if one.about
    )
    for about in abouts:
        try:
            found = mend_search.cheapest(reading, about)
        except Refused as refusal:
            found = Found(words=f"Nothing could be tried: {refusal}")
        if found is not None:
            yield about, found


def _row(plan: WeekPlan, about: str, found: Found) -> Mend:
    return Mend(
        plan=plan,
        snag=about,
        words=found.words[:400],
        cents=found.cents,
        ask=dict(found.ask),
        at=clock.now(),
    )
