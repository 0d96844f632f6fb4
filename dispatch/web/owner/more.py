"""What stands beneath the board: whom nobody has told, which spray slots remain, what changed since the owner looked."""

from typing import Any
from urllib.parse import urlencode

from django.urls import reverse

from dispatch.actions import board_reading, glance, seen, slots, untold
from dispatch.actions.board import Board
from dispatch.actions.board_words import between, dated, lasting, names, when
from dispatch.records.models import Account, WeekPlan

_PARTS = ("wet", "sky")
_NAMED = 3  # boats named in one line


def of(
    shown: WeekPlan, account: Account, board: Board, wanted: str = ""
) -> dict[str, Any]:
    """The page's words for them, and the seven answers at its head; ``wanted`` is the plan that the page was asked to show."""
    zone = board.zone
    news = seen.of(account)
    remain = slots.of(board_reading.read(shown)) if shown.plan else ()
    waiting = untold.of(shown)
    answers = _answers(shown, board, glance.Beside(remain, waiting, news))
    return {
        "glance": [(_to(one.key, wanted), one) for one in answers],
        "folded": _folded(board, answers, news),
        "untold": [(when(one.start, zone), one) for one in waiting],
        "slots": [
            (between(one.span, zone), lasting(one.minutes), lasting(one.spare), one)
            for one in remain
        ],
        "news": news,
        "news_since": dated(news.since, zone) if news.since else "",
        "changes": [(dated(row.at, zone), row) for row in news.lines],
    }


def _to(key: str, wanted: str) -> str:
    """Where an answer leads: a part of the same board, the stores, or further down the page."""
    if key in _PARTS:
        show = {"show": wanted} if wanted else {}
        return f"?{urlencode(show | {'only': key})}"
    return reverse("stores") if key == "stores" else f"#{key}"


def _answers(
    shown: WeekPlan, board: Board, beside: glance.Beside
) -> tuple[glance.Line, ...]:
    """The seven answers and the sky's; none before there is a plan."""
    if not shown.plan:
        return ()
    return glance.of(board_reading.read(shown), board, beside)


def _folded(
    board: Board, answers: tuple[glance.Line, ...], news: seen.News
) -> dict[str, glance.Line]:
    """What each part beneath the board says in one line where a phone folds it."""
    lines = {one.key: one for one in (*answers, glance.changed(board, news))}
    snags = glance.Line(key="snags", name="Snags", says=_more_snags(board))
    left = glance.Line(key="left_out", name="Left out", says=_left(board))
    return lines | {snags.key: snags, left.key: left}


def _more_snags(board: Board) -> str:
    """How many snags stand behind the heaviest, and what they are about."""
    rest = board.snags[1:]
    about = list(dict.fromkeys(one.subject for one in rest))
    return f"{len(rest)} more: {', '.join(about)}"


def _left(board: Board) -> str:
    """How much of whose work is left out."""
    stages = sum(len(one.stages) + len(one.waiting) for one in board.left_out)
    boats = list(dict.fromkeys(one.boat for one in board.left_out))
    many = f"{stages} stage{'' if stages == 1 else 's'}"
    return f"{many} of {names(boats[:_NAMED])}" + (
        f" and {len(boats) - _NAMED} more" if len(boats) > _NAMED else ""
    )
