"""The frozen values that cross the socket. No rows, no requests, no callbacks."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime

from dispatch.trade.sky import Sky, SkyHour
from dispatch.trade.spans import Span
from dispatch.trade.work import Veto, Work


class Complaint(Exception):  # noqa: N818 - what the plugin has to say, not what it is
    """A plugin's own reason for not answering: one sentence for a person, what is wrong and what to do."""


@dataclass(frozen=True, kw_only=True)
class ForecastAsk:
    """Which place, and which span of hours, a forecast is wanted for.

    ``kept`` is what the plugin asked to have kept with its forecast of this place that is newest in store;
    empty where there is none.
    """

    place_key: str
    latitude: float
    longitude: float
    span: Span
    kept: str = ""


@dataclass(frozen=True, kw_only=True)
class ForecastAnswer:
    """Hours in order, with the moment they were issued.

    ``keep`` is a short text the plugin wants back with its next ask for this place. ``unchanged`` says
    that the forecast ``kept`` came with still stands: there are no hours then, and what is in store stays.
    """

    issued_at: datetime
    hours: tuple[SkyHour, ...]
    keep: str = ""
    unchanged: bool = False


@dataclass(frozen=True, kw_only=True)
class VetoAsk:
    """A piece of work, the sky over it (None: no forecast), and the span to judge; ``units`` is us or metric.

    ``place_key`` names the place where it is done, as the house does.
    """

    stage_key: str
    work: Work
    sky: Sky | None
    horizon: Span
    units: str
    place_key: str = ""

    def __post_init__(self) -> None:
        if self.units not in ("us", "metric"):
            raise ValueError(f"Units are us or metric, not {self.units}.")


@dataclass(frozen=True, kw_only=True)
class VetoAnswer:
    """The spans in which the work may not be done, with reasons."""

    vetoes: tuple[Veto, ...]


@dataclass(frozen=True, kw_only=True)
class Spot:
    """A place between which is driven, named as the house does."""

    key: str
    latitude: float
    longitude: float


@dataclass(frozen=True, kw_only=True)
class Leg:
    """One drive from a place to another: whole minutes and metres by road, without a trailer."""

    origin: str
    destination: str
    minutes: int
    metres: int


@dataclass(frozen=True, kw_only=True)
class DrivesAsk:
    """The drives wanted, from each origin to each destination, and what the house itself knows of driving.

    Roads are ``circuity`` times as long as the great circle and driven at ``km_per_hour``; getting under way
    takes ``start_minutes``. ``driven`` are drives that people have entered, or that the crew's own reports teach.
    """

    origins: tuple[Spot, ...]
    destinations: tuple[Spot, ...]
    circuity: float
    km_per_hour: float
    start_minutes: float
    driven: tuple[Leg, ...] = ()


@dataclass(frozen=True, kw_only=True)
class DrivesAnswer:
    """The drives that are known; one that is not is left out, and the house reckons it by distance."""

    legs: tuple[Leg, ...]


@dataclass(frozen=True, kw_only=True)
class PriceLine:
    """One part of a price in words, with its whole cents; less than nought takes off."""

    words: str
    cents: int


@dataclass(frozen=True, kw_only=True)
class PriceAsk:
    """A job to be priced, as it stands in the book on a day, and the lines the catalogue itself asks for it.

    ``kind`` is the key of its kind in the catalogue, ``grade`` 1 to 4 how worn she is, ``repairs`` counts under
    S, M and L; ``promised`` the days promised, None where there are none; ``returning`` whether the boat was
    handed back before; ``drive_km`` the way by road from the nearest base, None where no base is known.
    """

    job_key: str
    kind: str
    length_m: float
    shape: str
    grade: int
    on: date
    lines: tuple[PriceLine, ...]
    place_key: str = ""
    dark: bool = False
    repairs: Mapping[str, int] = field(default_factory=dict)
    promised: tuple[date, date] | None = None
    returning: bool = False
    drive_km: float | None = None


@dataclass(frozen=True, kw_only=True)
class PriceAnswer:
    """A whole price, line by line, which takes the place of the catalogue's; no lines where there is none to tell."""

    lines: tuple[PriceLine, ...]


@dataclass(frozen=True, kw_only=True)
class Appointment:
    """The span of time a message is about, for a calendar.

    ``uid`` is the same for every telling of the visit, ``sequence`` counts the tellings from 0, and
    ``told_at`` is the moment of this one. ``cancelled`` says that it will not be.
    """

    uid: str
    sequence: int
    told_at: datetime
    span: Span
    where: str = ""
    cancelled: bool = False


@dataclass(frozen=True, kw_only=True)
class Message:
    """One message to one address; ``key`` is the same however often it is tried.

    ``segments`` is how many a text message takes, 0 where that was not counted.
    """

    key: str
    reason: str
    channel: str
    to: str
    subject: str
    body: str
    appointment: Appointment | None = None
    segments: int = 0

    def __post_init__(self) -> None:
        if not self.key or not self.to or not self.body:
            raise ValueError("A message needs a key, an address and a text.")


@dataclass(frozen=True, kw_only=True)
class Receipt:
    """What became of a message: accepted, refused, or unknown; ``said`` is the channel's own answer.

    ``number`` is what the channel calls the message, where it will tell later whether it arrived.
    """

    status: str
    said: str = ""
    number: str = ""

    def __post_init__(self) -> None:
        if self.status not in ("accepted", "refused", "unknown"):
            raise ValueError(
                f"A receipt is accepted, refused or unknown, not {self.status}."
            )


@dataclass(frozen=True, kw_only=True)
class HearAsk:
    """What somebody posted to the plugin's address, its signature found right; ``at`` is when it came."""

    body: str
    at: datetime


@dataclass(frozen=True, kw_only=True)
class Delivery:
    """What became of a message of a channel's ``number`` after it was sent: delivered or failed."""

    number: str
    state: str

    def __post_init__(self) -> None:
        if self.state not in ("delivered", "failed"):
            raise ValueError(
                f"A delivery is delivered or failed, not {self.state}; leave out what is neither."
            )


@dataclass(frozen=True, kw_only=True)
class Answered:
    """What somebody wrote back: from which address, the text, and what the service calls it where it does."""

    sender: str
    text: str
    number: str = ""


@dataclass(frozen=True, kw_only=True)
class HearAnswer:
    """What a post told; both are empty where it told nothing that matters."""

    deliveries: tuple[Delivery, ...] = ()
    answers: tuple[Answered, ...] = ()


@dataclass(frozen=True, kw_only=True)
class PostedVisit:
    """A visit as it is posted; ``uid`` is the same wherever it is moved, ``sure`` whether the sky allows it."""

    uid: str
    span: Span
    title: str
    where: str
    note: str
    sure: bool


@dataclass(frozen=True, kw_only=True)
class PublishAsk:
    """A person's visits in order, ``at`` a moment, to be written for others to read; ``uid`` is the person's."""

    uid: str
    whose: str
    at: datetime
    visits: tuple[PostedVisit, ...]


@dataclass(frozen=True, kw_only=True)
class Published:
    """What was written: ``text/calendar`` or ``text/csv``, under a file's name."""

    media_type: str
    filename: str
    text: str
