"""A roof over a boat, which must be down at a gust that its maker names."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime

import numpy as np

from dispatch.trade import rulebook
from dispatch.trade.condition import Bools, Condition, Say
from dispatch.trade.samples import Samples
from dispatch.trade.sun import Floats
from dispatch.trade.words import Words, apart
from dispatch.trade.work import Work

_HAIR = 1e-6


@dataclass(frozen=True, kw_only=True)
class Struck:
    """The moment from which on a roof must be down: the gust forecast for it, and the one it must be down at."""

    at: datetime
    gust_ms: float
    down_gust_ms: float

    def says(self, words: Words) -> str:
        """The two numbers."""
        gust, limit = apart(words.speed, self.gust_ms, self.down_gust_ms)
        return f"gust {gust}, its limit {limit}"


def first(
    gusts: Iterable[tuple[datetime, float | None]], down_gust_ms: float
) -> Struck | None:
    """From when on a roof must be down, by gusts in order; it is not counted on again after. None where no gust says so."""
    for at, gust_ms in gusts:
        if gust_ms is not None and gust_ms >= down_gust_ms - _HAIR:
            return Struck(at=at, gust_ms=gust_ms, down_gust_ms=down_gust_ms)
    return None


def struck(gusts_ms: Floats, down_gust_ms: float) -> Bools:
    """At which moments of a grid a roof must be down; an unknown gust does not say so."""
    with np.errstate(invalid="ignore"):
        return np.asarray(gusts_ms >= down_gust_ms - _HAIR, dtype=np.bool_)


def check(work: Work, grid: Samples, words: Words) -> Iterator[Condition]:
    """No work under a roof while that must be down; nothing is known where nobody told its gust."""
    limit = work.down_gust_ms
    if limit is None:
        return
    gusts = grid["gust_ms"]
    yield Condition(
        code="roof-down",
        fails=struck(gusts, limit),
        excess=np.nan_to_num(gusts - limit),
        say=_says(gusts, limit, words),
        strength=rulebook.strength("roof-down"),
    )


def _says(gusts: Floats, limit: float, words: Words) -> Say:
    def say(i: int) -> tuple[str, dict[str, float]]:
        gust, down = apart(words.speed, gusts[i], limit)
        numbers = {"gust_ms": float(gusts[i]), "down_gust_ms": limit}
        return f"the roof must be down: gust {gust}, its limit {down}", numbers

    return say
