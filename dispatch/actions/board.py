"""A week's board as values, in SI units and aware UTC moments: what every door shows of a plan."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Literal
from zoneinfo import ZoneInfo

from dispatch.actions.priced import Offer, Priced
from dispatch.actions.store_line import StoreLine
from dispatch.trade.spans import Span

SegmentKind = Literal["hands", "held", "wet", "setting", "waiting"]
SkyMark = Literal["", "forbids", "likely", "unknown"]
Tap = Literal[
    "",
    "forecasts",
    "cast-off",
    "stores",
    "boat",
    "told",
    "cover",
    "covered",
    "shut-out",
]


@dataclass(frozen=True, kw_only=True)
class Hour:
    """One hour of the sky at the base; None is unknown. ``spread_k`` is the shaded hull above the dew point."""

    at: datetime
    air_c: float | None
    spread_k: float | None
    gust_ms: float | None
    cloud_pct: float | None
    rain_mm: float | None
    rain_prob_pct: float | None


@dataclass(frozen=True, kw_only=True)
class SkyRibbon:
    """The sky at the base hour by hour, whose forecast it is, when it was issued, what of it was entered by hand, and whether it is old."""

    place: str
    hours: tuple[Hour, ...]
    issued_at: datetime | None
    gust_limit_ms: float
    spread_limit_k: float
    by_hand: str = ""
    stale: bool = False


@dataclass(frozen=True, kw_only=True)
class Segment:
    """One stretch of a boat's strip; the strip's segments meet from the first hand laid to the last film set.

    ``sky`` marks hands still to come that the sky forbids, or of which it is only likely or not known
    that it allows them; it is empty where it does. ``fast``: made fast by the owner where it is.
    ``held`` are posted hours that come to nothing: nobody could get to her, and she is held for the owner.
    """

    kind: SegmentKind
    span: Span
    words: str
    stage: str = ""
    initials: tuple[str, ...] = ()
    people: tuple[str, ...] = ()
    under_way: bool = False
    sky: SkyMark = ""
    fast: bool = False


@dataclass(frozen=True, kw_only=True)
class Film:
    """Film that one stage lays; a moment that is None is not reached by this forecast.

    ``aging`` says how old a forecast its range was widened for.
    """

    stage: str
    name: str
    laid_at: datetime
    rain_safe: datetime | None
    sandable: datetime | None
    earliest: datetime | None
    latest: datetime | None
    sands: bool
    aging: str = ""


@dataclass(frozen=True, kw_only=True)
class Promise:
    """What the customer was promised, and when the plan has the job finished (None: it does not)."""

    kind: str
    since: datetime | None
    by: datetime | None
    finish: datetime | None

    @property
    def late_minutes(self) -> int:
        """Minutes by which the finish passes the promise; below zero is time to spare."""
        if self.by is None or self.finish is None:
            return 0
        return round((self.finish - self.by).total_seconds() / 60)


@dataclass(frozen=True, kw_only=True)
class Lie:
    """How a boat lies: her length and headings in degrees true; None where nobody has read it."""

    length_m: float
    heading_true_deg: float | None
    turned_to_deg: float | None
    dark: bool


@dataclass(frozen=True, kw_only=True)
class BoatRow:
    """One boat's job in the week; ``ways``: the week may have it done in more ways than one."""

    job: str
    boat: str
    kind: str
    customer: str
    grade: int
    way: str
    lie: Lie
    promise: Promise
    segments: tuple[Segment, ...]
    films: tuple[Film, ...]
    shade: Mapping[str, tuple[Span, ...]]
    note: str
    ways: bool = False

    @property
    def span(self) -> Span | None:
        """From the first hand laid to the last film set; None where nothing is planned."""
        if not self.segments:
            return None
        return Span(self.segments[0].span.start, self.segments[-1].span.end)


@dataclass(frozen=True, kw_only=True)
class PlaceRows:
    """A place with its boats, and how many minutes' drive it lies from the base."""

    key: str
    name: str
    drive_minutes: int
    boats: tuple[BoatRow, ...]


@dataclass(frozen=True, kw_only=True)
class Stop:
    """A visit or a tow of a van's day; ``held`` as a segment is."""

    does: Literal["visit", "held", "tow"]
    span: Span
    place: str
    words: str


@dataclass(frozen=True, kw_only=True)
class Trip:
    """One van's day on the road."""

    on: date
    span: Span
    rest: Span | None
    people: tuple[str, ...]
    initials: tuple[str, ...]
    stops: tuple[Stop, ...]


@dataclass(frozen=True, kw_only=True)
class VanLine:
    """A van and its days."""

    key: str
    name: str
    seats: int
    tows: bool
    trips: tuple[Trip, ...]


@dataclass(frozen=True, kw_only=True)
class PersonLine:
    """A person's paid minutes of those the week has for them, and the dates they are away."""

    key: str
    name: str
    initials: str
    used_minutes: int
    of_minutes: int
    out: tuple[Span, ...]
    hands: tuple[Span, ...]
    away: tuple[date, ...]


@dataclass(frozen=True, kw_only=True)
class Stand:
    """Where a piece of equipment is: standing at a place, or under way to it."""

    place: str
    span: Span
    moving: bool


@dataclass(frozen=True, kw_only=True)
class EquipmentLine:
    """A trailer's or canopy's places over the week."""

    key: str
    name: str
    stands: tuple[Stand, ...]


@dataclass(frozen=True, kw_only=True)
class LeftStage:
    """A stage without a visit."""

    stage: str
    name: str


@dataclass(frozen=True, kw_only=True)
class LeftOut:
    """Stages of one job that are left out for one reason; ``waiting`` come after them.

    ``goes_on``: nothing is amiss, the job needs more days than the week has and goes on in the next.
    """

    job: str
    boat: str
    code: str
    why: str
    stages: tuple[LeftStage, ...]
    waiting: tuple[LeftStage, ...]
    extra: bool
    goes_on: bool = False


@dataclass(frozen=True, kw_only=True)
class Snag:
    """One thing that may go wrong, with its numbers and what would mend it; the heaviest come first.

    ``stage`` or ``setting`` (a subject of the settings) is where its rule and the rest of its numbers stand.
    ``anew``: planning what is left of the week anew mends it. ``does`` is another one tap that does, ``about``
    what a mend is worked out and kept for. ``photos`` are numbers of those that were sent with it; ``offers``
    what else may be done about it.
    """

    weight: int
    subject: str
    sentence: str
    mend: str = ""
    stage: str = ""
    setting: str = ""
    anew: bool = False
    does: Tap = ""
    about: str = ""
    photos: tuple[int, ...] = ()
    offers: tuple[Offer, ...] = ()
    priced: Priced | None = None


@dataclass(frozen=True, kw_only=True)
class Board:
    """Everything the week's board shows."""

    outfit: str
    units: str
    zone: ZoneInfo
    now: datetime
    state: str
    days: tuple[date, ...]
    day_spans: tuple[Span, ...]
    sky: SkyRibbon
    places: tuple[PlaceRows, ...]
    vans: tuple[VanLine, ...]
    people: tuple[PersonLine, ...]
    equipment: tuple[EquipmentLine, ...]
    stores: tuple[StoreLine, ...]
    left_out: tuple[LeftOut, ...]
    snags: tuple[Snag, ...]
    unlisted: tuple[Snag, ...] = ()
    cost_cents: Mapping[str, int] = field(default_factory=dict)
    plan: int | None = None

    @property
    def more_snags(self) -> int:
        """How many snags are lighter than those listed."""
        return len(self.unlisted)

    @property
    def boats(self) -> tuple[BoatRow, ...]:
        """Every boat, in driving order."""
        return tuple(boat for place in self.places for boat in place.boats)
