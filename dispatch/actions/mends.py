"""What would mend a plan's snags and what that costs: worked out by a task, kept with its age, shown on the board."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from django.db import transaction

from dispatch.actions import (
    board_mends,
    board_reading,
    clock,
    mend_anew,
    mend_search,
    one_moment,
    show_board,
    timeline,
)
from dispatch.actions.board import Board, Snag
from dispatch.actions.errors import Refused
from dispatch.actions.mend_search import Found
from dispatch.actions.priced import Offer
from dispatch.records.models import Mend, WeekPlan

# What was worked out earlier is worked out again: the hours it names go by.
_FRESH = timedelta(hours=1)
_OPEN = (WeekPlan.State.DRAFT, WeekPlan.State.STANDING)


def price(key: str) -> None:
    """Work out the mends of a plan's snags and store them in place of what was kept; of one that is no longer open nothing."""
    plan = WeekPlan.objects.filter(pk=int(key), state__in=_OPEN).first()
    if plan is None or not plan.plan:
        return
    with one_moment.held():
        board = show_board.board(plan)
        rows = [_row(plan, about, found) for about, found in _found(plan, board)]
    with transaction.atomic():
        Mend.objects.filter(plan=plan).exclude(snag=board_mends.ANEW).delete()
        Mend.objects.bulk_create(rows)
    mend_anew.later(plan, board)


def look() -> int:
    """Leave it to a task to price the mends of each standing week that is not over, where some are missing or old; return of how many."""
    now, found = clock.now(), 0
    for plan in WeekPlan.objects.filter(state=WeekPlan.State.STANDING):
        if timeline.of(plan.week).horizon.end > now:
            snags = show_board.board(plan).snags
            if any(_wanted(one, now) for one in snags):
                board_mends.later(plan.pk)
                found += 1
    return found


def _wanted(snag: Snag, now: datetime) -> bool:
    asked = [one.priced for one in _parts(snag) if mend_search.knows(one.about)]
    if snag.anew:
        asked.append(snag.priced)
    return any(priced is None or priced.at < now - _FRESH for priced in asked)


def _parts(snag: Snag) -> tuple[Snag | Offer, ...]:
    """A snag and what else it offers: each may have a price."""
    return (snag, *snag.offers)


def _found(plan: WeekPlan, board: Board) -> Iterator[tuple[str, Found]]:
    reading = board_reading.read(plan)
    asked = [one for snag in board.snags for one in _parts(snag)]
    abouts = dict.fromkeys(one.about for one in asked if one.about)
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
