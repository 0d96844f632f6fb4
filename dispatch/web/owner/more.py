"""What stands beneath the board: whom nobody has told, which spray slots remain, what changed since the owner looked."""

from typing import Any
from zoneinfo import ZoneInfo

from dispatch.actions import board_reading, seen, slots, untold
from dispatch.actions.board_words import between, dated, lasting, when
from dispatch.records.models import Account, WeekPlan


def of(shown: WeekPlan, account: Account, zone: ZoneInfo) -> dict[str, Any]:
    """The page's words for them."""
    news = seen.of(account)
    remain = slots.of(board_reading.read(shown)) if shown.plan else ()
    return {
        "untold": [(when(one.start, zone), one) for one in untold.of(shown)],
        "slots": [
            (between(one.span, zone), lasting(one.minutes), lasting(one.spare), one)
            for one in remain
        ],
        "news": news,
        "news_since": dated(news.since, zone) if news.since else "",
        "changes": [(dated(row.at, zone), row) for row in news.lines],
    }
