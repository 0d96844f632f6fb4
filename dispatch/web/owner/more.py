"""What stands beneath the board: whom nobody has told, which spray slots remain, what changed since the owner looked."""

from typing import Any

from django.urls import reverse

from dispatch.actions import board_reading, glance, seen, slots, untold
from dispatch.actions.board import Board
from dispatch.actions.board_words import between, dated, lasting, when
from dispatch.records.models import Account, WeekPlan


def of(shown: WeekPlan, account: Account, board: Board) -> dict[str, Any]:
    """The page's words for them, and the seven answers at its head."""
    zone = board.zone
    news = seen.of(account)
    remain = slots.of(board_reading.read(shown)) if shown.plan else ()
    waiting = untold.of(shown)
    return {
        "glance": _glance(shown, board, glance.Beside(remain, waiting, news)),
        "untold": [(when(one.start, zone), one) for one in waiting],
        "slots": [
            (between(one.span, zone), lasting(one.minutes), lasting(one.spare), one)
            for one in remain
        ],
        "news": news,
        "news_since": dated(news.since, zone) if news.since else "",
        "changes": [(dated(row.at, zone), row) for row in news.lines],
    }


def _glance(
    shown: WeekPlan, board: Board, beside: glance.Beside
) -> list[tuple[str, glance.Line]]:
    """Each answer with the address of what tells more; none before there is a plan."""
    if not shown.plan:
        return []
    pages = {"wet": "?only=wet", "sky": "?only=sky", "stores": reverse("stores")}
    lines = glance.of(board_reading.read(shown), board, beside)
    return [(pages.get(line.key, f"#{line.key}"), line) for line in lines]
