"""The closed list of why we write to anyone, each with the facts its words need."""

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from typing import ClassVar
from zoneinfo import ZoneInfo

from dispatch.trade.spans import Span


class Reason(StrEnum):
    """Why a message is written; there is no other reason."""

    AGREED = "agreed"
    AHEAD = "ahead"
    ARRIVAL = "arrival"
    MORNING = "morning"
    MOVED = "moved"
    CAME = "came"
    PICKUP = "pickup"
    FILM_WET = "film-wet"
    YEARLY = "yearly"
    COVER = "cover"
    COVER_SETTLED = "cover-settled"
    FILM_THREAT = "film-threat"


@dataclass(frozen=True, kw_only=True)
class About:
    """Whose message it is, the number to ring, and about which boat; ``zone`` is the place's, in which times are told."""

    outfit: str
    boat: str
    place: str
    zone: ZoneInfo
    phone: str = ""


@dataclass(frozen=True, kw_only=True)
class Agreed:
    """A job was agreed: ``what`` is to be done, ``done`` the first and the last moment promised, None where none was.

    ``hard``: the last is a hard date. ``prepare`` are whole sentences, the most needed first.
    """

    reason: ClassVar = Reason.AGREED
    about: About
    what: str
    done: tuple[datetime, datetime] | None
    hard: bool = False
    prepare: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Ahead:
    """The crew is to come in some days; ``doubt`` is why it may not, empty where the sky allows it."""

    reason: ClassVar = Reason.AHEAD
    about: About
    arrives: Span
    doubt: str = ""


@dataclass(frozen=True, kw_only=True)
class Morning:
    """The crew comes today; ``doubt`` is why it may not."""

    reason: ClassVar = Reason.MORNING
    about: About
    arrives: Span
    doubt: str = ""


@dataclass(frozen=True, kw_only=True)
class Yearly:
    """A boat was finished about a year ago, on a day: her finish is to be looked over."""

    reason: ClassVar = Reason.YEARLY
    about: About
    finished_on: date


@dataclass(frozen=True, kw_only=True)
class Arrival:
    """The crew comes within a span of time, to do some things; ``prepare`` are short requests, ``doubt`` why it may not come."""

    reason: ClassVar = Reason.ARRIVAL
    about: About
    arrives: Span
    doing: tuple[str, ...] = ()
    prepare: tuple[str, ...] = ()
    doubt: str = ""


@dataclass(frozen=True, kw_only=True)
class Moved:
    """Visits that were told, of some days, do not hold; ``arrives`` is the new span, None where it is not settled.

    ``appointment`` is the new moment of a fixed one, where that moved them; ``off``: none comes instead.
    """

    reason: ClassVar = Reason.MOVED
    about: About
    days: tuple[date, ...]
    arrives: Span | None
    why: str
    appointment: datetime | None = None
    off: bool = False

    def __post_init__(self) -> None:
        if not self.why:
            raise ValueError("A visit that moves needs its reason told.")
        if not self.days:
            raise ValueError("A visit that moves was told of a day.")


@dataclass(frozen=True, kw_only=True)
class Came:
    """The crew came, waited over a span of time and could not get to the boat."""

    reason: ClassVar = Reason.CAME
    about: About
    waited: Span


@dataclass(frozen=True, kw_only=True)
class Pickup:
    """The boat is done and may be collected from a moment on; ``numbers_off``: its registration is not on it.

    ``care_days``: for how long a new finish is to be treated with care, 0 where there is none; ``care`` is how, in the
    outfit's own words.
    """

    reason: ClassVar = Reason.PICKUP
    about: About
    ready_at: datetime
    numbers_off: bool = False
    care_days: int = 0
    care: str = ""


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


@dataclass(frozen=True, kw_only=True)
class Cover:
    """For the crew: wet film is to be covered, by a moment or at once where None, with what is there.

    ``threat`` is what reaches it, and when, in a few words, empty where nothing is forecast; ``safe`` is when rain
    does it no harm any more, None where that is not known. ``stays`` is whether the roof can stay till then.
    """

    reason: ClassVar = Reason.COVER
    about: About
    by: datetime | None
    using: str
    threat: str
    safe: datetime | None
    stays: str = ""


@dataclass(frozen=True, kw_only=True)
class CoverSettled:
    """For the crew: nobody need go any more; she is covered since a moment, as somebody says, or no cover is wanted (None)."""

    reason: ClassVar = Reason.COVER_SETTLED
    about: About
    since: datetime | None
    who: str = ""


@dataclass(frozen=True, kw_only=True)
class FilmThreat:
    """For the owner: rain or dew comes to film that is wet on some panels, from a moment on; ``threat`` says so in a few words.

    ``by`` is when she is to be covered, None for at once; ``asked`` what is asked for over her and not on yet; ``safe``
    when rain does the film no harm any more, None where that is not known.
    """

    reason: ClassVar = Reason.FILM_THREAT
    about: About
    panels: tuple[str, ...]
    threat: str
    at: datetime
    by: datetime | None
    asked: str
    safe: datetime | None


ForCustomers = (
    Agreed | Ahead | Arrival | Morning | Moved | Came | Pickup | FilmWet | Yearly
)
ForCrew = Cover | CoverSettled | FilmThreat
Occasion = ForCustomers | ForCrew
