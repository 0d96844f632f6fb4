"""What forecast sources answered when all of them were asked at once, and that in sentences."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from dispatch.actions import plugin_words
from dispatch.actions.board_words import dated, names

_NAMED = 3


@dataclass(frozen=True, kw_only=True)
class Came:
    """A forecast of one place that a source gave; ``new`` where it was not in store already."""

    place: str
    source: str
    issued_at: datetime
    hours: int
    new: bool


@dataclass(frozen=True, kw_only=True)
class Failed:
    """A source that gave no forecast of one place, and why in a sentence that names it."""

    place: str
    source: str
    why: str


@dataclass(frozen=True, kw_only=True)
class Asked:
    """Everything that was answered, and the places left as work of their own because it took too long."""

    came: tuple[Came, ...]
    failed: tuple[Failed, ...]
    later: tuple[str, ...]

    @property
    def new(self) -> int:
        """How many forecasts were not in store already."""
        return sum(one.new for one in self.came)


def sentences(asked: Asked, zone: ZoneInfo) -> Iterator[str]:
    """What came and what failed, a sentence for each source and issue or fault; moments in a zone's time."""
    came, failed = defaultdict(list), defaultdict(list)
    for one in asked.came:
        came[one.source, one.issued_at, one.new].append(one.place)
    for lost in asked.failed:
        failed[lost.source, lost.why].append(lost.place)
    for (source, issued_at, new), places in came.items():
        what = "new for" if new else "nothing newer than we have for"
        yield f"{plugin_words.spaced(source)}: {what} {_listed(places)}, issued {dated(issued_at, zone)}."
    for (source, why), places in failed.items():
        yield f"{plugin_words.spaced(source)} failed for {_listed(places)}. {why}"
    if asked.later:
        yield f"It took too long; asked one by one: {_listed(asked.later)}."


def _listed(places: Sequence[str]) -> str:
    return f"{len(places)} places" if len(places) > _NAMED else names(places)
