"""Messages in groups of how far they have come; what is told of one fact to one addressee stands in one line."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import groupby
from zoneinfo import ZoneInfo

from django.core.paginator import Page, Paginator
from django.db.models import Q, QuerySet

from dispatch.actions import clock
from dispatch.actions.board_words import dated
from dispatch.records.models import Notice

_A_PAGE = 40
_LATE = timedelta(minutes=10)
# What was refused or did not arrive asks for a call for so long; later it is an old story.
_FRESH = timedelta(days=3)
# How it went out, in a line of its own and within a line.
_WAYS = {"text": ("Text message", "text"), "email": ("E-mail", "e-mail")}


@dataclass(frozen=True, kw_only=True)
class Kind:
    """A group's words; ``whole``: each message needs a hand and is shown at length; else so many lines begin the page."""

    key: str
    title: str
    about: str
    rest: str
    lines: int
    whole: bool = False


KINDS = (
    Kind(
        key="unknown",
        title="Ask whether these came",
        about="They were handed over, and nobody knows whether they arrived. They are not sent again by themselves.",
        rest="to ask about",
        lines=_A_PAGE,
        whole=True,
    ),
    Kind(
        key="failed",
        title="Did not arrive",
        about="They were sent, and the channel tells that they did not arrive: call by hand.",
        rest="that did not arrive",
        lines=_A_PAGE,
        whole=True,
    ),
    Kind(
        key="refused",
        title="Refused",
        about="These will not be taken: call by hand.",
        rest="refused",
        lines=_A_PAGE,
        whole=True,
    ),
    Kind(key="waiting", title="Waiting", about="", rest="that wait", lines=8),
    Kind(key="sent", title="Sent", about="", rest="sent", lines=5),
    Kind(
        key="dropped",
        title="Not sent",
        about=f"Overtaken by a newer message, too late, not wanted, or refused more than {_FRESH.days} days ago.",
        rest="not sent",
        lines=3,
    ),
)


@dataclass(frozen=True, kw_only=True)
class Part:
    """A message as one channel has it."""

    notice: Notice
    way: str
    at: str
    told: str


@dataclass(frozen=True, kw_only=True)
class Line:
    """What is told of one fact to one addressee, by one channel or more, and whether it waits longer than it should."""

    parts: tuple[Part, ...]
    ways: str
    at: str
    late: bool

    @property
    def first(self) -> Notice:
        return self.parts[0].notice

    @property
    def amiss(self) -> str:
        """What a channel told against it: that it was not taken, or did not arrive."""
        rows = [one.notice for one in self.parts]
        if any(row.state == Notice.State.REFUSED for row in rows):
            return "Refused"
        failed = any(row.delivery == Notice.Delivery.FAILED for row in rows)
        return "Did not arrive" if failed else ""


@dataclass(frozen=True, kw_only=True)
class Group:
    """Messages that have come equally far: how many, and as many as are shown."""

    kind: Kind
    count: int
    lines: tuple[Line, ...]
    page: "Page[Notice] | None" = None

    @property
    def whole(self) -> bool:
        return self.kind.whole

    @property
    def more(self) -> bool:
        """Whether there are more than are shown."""
        return self.count > sum(len(line.parts) for line in self.lines)


@dataclass(frozen=True, kw_only=True)
class Late:
    """How many messages wait longer than they should, and since when the first does."""

    count: int
    since: str


def of(key: str) -> Kind | None:
    """The group of a name, if there is one."""
    return next((kind for kind in KINDS if kind.key == key), None)


def begun(kind: Kind, zone: ZoneInfo, *, held: bool) -> Group:
    """Return a group with its first lines."""
    rows, now = _rows(kind), clock.now()
    # A line has a text and an e-mail at most, as a rule; the last may be cut short, so it is looked up with one more.
    taken = list(rows[: 2 * kind.lines + 1])
    lines = tuple(_lines(taken, zone, now, held=held))[: kind.lines]
    return Group(kind=kind, count=rows.count(), lines=lines)


def paged(kind: Kind, zone: ZoneInfo, number: str, *, held: bool) -> Group:
    """Return a page of a group."""
    page = Paginator(_rows(kind), _A_PAGE).get_page(number)
    lines = tuple(_lines(page.object_list, zone, clock.now(), held=held))
    return Group(kind=kind, count=page.paginator.count, lines=lines, page=page)


def late(zone: ZoneInfo, *, held: bool) -> Late | None:
    """What should have gone out by now; what is held still waits for its owner, not for a plugin."""
    waiting = Notice.objects.filter(state=Notice.State.WAITING)
    rows = waiting.filter(due_at__lt=clock.now() - _LATE).order_by("due_at")
    first = None if held else rows.first()
    return (
        Late(count=rows.count(), since=dated(first.due_at, zone))
        if first is not None
        else None
    )


def _rows(kind: Kind) -> QuerySet[Notice]:
    rows = Notice.objects.filter(_which(kind.key, clock.now()))
    at = "due_at" if kind.key == "waiting" else "-due_at"
    rows = rows.select_related("customer", "person")
    return rows.order_by(at, "begins_at", "fact", "version", "customer", "person", "pk")


def _which(key: str, now: datetime) -> Q:
    fresh = Q(settled_at__isnull=True) | Q(settled_at__gt=now - _FRESH)
    refused = Q(state=Notice.State.REFUSED)
    failed = Q(delivery=Notice.Delivery.FAILED) & fresh
    return {
        "unknown": Q(state=Notice.State.UNKNOWN),
        "failed": Q(state=Notice.State.SENT) & failed,
        "refused": refused & fresh,
        "waiting": Q(state__in=(Notice.State.WAITING, Notice.State.CLAIMED)),
        "sent": Q(state=Notice.State.SENT) & ~failed,
        "dropped": Q(state=Notice.State.DROPPED) | (refused & ~fresh),
    }[key]


def _lines(
    rows: Iterable[Notice], zone: ZoneInfo, now: datetime, *, held: bool
) -> Iterator[Line]:
    for _, told in groupby(rows, key=_fact):
        parts = tuple(_part(row, zone) for row in told)
        waits = [one for one in parts if one.notice.state == Notice.State.WAITING]
        due = any(one.notice.due_at + _LATE < now for one in waits)
        ways = dict.fromkeys(_way(one.notice)[1] for one in parts)
        yield Line(
            parts=parts, ways=", ".join(ways), at=parts[0].at, late=due and not held
        )


def _fact(row: Notice) -> tuple[object, ...]:
    """What messages of one line have in common."""
    of_it = (row.reason, row.fact, row.version, row.customer_id, row.person_id)
    return (*of_it, row.due_at, row.state == Notice.State.CLAIMED)


def _part(row: Notice, zone: ZoneInfo) -> Part:
    told = dated(row.delivery_at, zone) if row.delivery_at else ""
    at = dated(row.settled_at or row.due_at, zone)
    return Part(notice=row, way=_way(row)[0], at=at, told=told)


def _way(row: Notice) -> tuple[str, str]:
    return _WAYS.get(row.channel, (row.channel.capitalize(), row.channel))
