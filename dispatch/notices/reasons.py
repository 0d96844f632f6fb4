"""The closed list of why we write to anyone, each with the facts its words need."""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import ClassVar
from zoneinfo import ZoneInfo

from dispatch.trade.spans import Span


class Reason(StrEnum):
    """Why a message is written; there is no other reason."""

    ARRIVAL = "arrival"
    MOVED = "moved"
    PICKUP = "pickup"
    FILM_WET = "film-wet"


@dataclass(frozen=True, kw_only=True)
class About:
    """Whose message it is and about which boat; ``zone`` is the place's, in which times are told."""

    outfit: str
    boat: str
    place: str
    zone: ZoneInfo


@dataclass(frozen=True, kw_only=True)
class Arrival:
    """The crew comes within a span of time, to do some things; ``prepare`` are short requests."""

    reason: ClassVar = Reason.ARRIVAL
    about: About
    arrives: Span
    doing: tuple[str, ...] = ()
    prepare: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Moved:
    """A visit that was told does not hold; ``arrives`` is the new span, None where it is not settled."""

    reason: ClassVar = Reason.MOVED
    about: About
    arrives: Span | None
    why: str

    def __post_init__(self) -> None:
        if not self.why:
            raise ValueError("A visit that moves needs its reason told.")


@dataclass(frozen=True, kw_only=True)
class Pickup:
    """The boat is done and may be collected from a moment on; ``numbers_off``: its registration is not on it."""

    reason: ClassVar = Reason.PICKUP
    about: About
    ready_at: datetime
    numbers_off: bool = False
    care_days: int = 14


@dataclass(frozen=True, kw_only=True)
class FilmWet:
    """Wet film is on some panels; it can be covered within a span of time, None where that is unknown."""

    reason: ClassVar = Reason.FILM_WET
    about: About
    panels: tuple[str, ...]
    cover: Span | None

    def __post_init__(self) -> None:
        if not self.panels:
            raise ValueError("Wet film lies on at least one panel.")


Occasion = Arrival | Moved | Pickup | FilmWet
