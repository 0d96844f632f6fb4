"""A route as knots on a line: which is open, what its dial shows, what was refused."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date

from dispatch.actions.show_route import Route, Stop
from dispatch.actions.visit_card import VisitCard
from dispatch.records.models import Stage
from dispatch.web import dial
from dispatch.web.dial import Dial

# field -> what it is of; a sentence needs no name
_WROTE = {
    "why": "",
    "words": "",
    "at": "time ",
    "amount": "product used ",
    "surface": "hull ",
    "air": "air ",
    "humidity": "humidity ",
    "heading": "bow points to ",
}


@dataclass(frozen=True, kw_only=True)
class Refusal:
    """What a report was refused for, and what had been entered; ``do`` in it names the form.

    ``asks`` is what was reported, where it is not refused but asked about; ``yes`` answers it.
    """

    visit_id: int
    sentence: str
    given: dict[str, str] = field(default_factory=dict)
    status: int = 400
    asks: str = ""
    yes: str = ""

    @property
    def wrong(self) -> str:
        """The field that the sentence is about, where it begins with what was written there."""
        begins = (n for n, v in self.given.items() if v and n != "do" and self._says(v))
        return next(begins, "")

    def _says(self, written: str) -> bool:
        return self.sentence.startswith(f"{written.strip()[:20]} ")

    @property
    def lost(self) -> list[str]:
        """All that was written, each with what it is of, for where its form does not stand any more."""
        return [
            f"{what}“{written}”"
            for name, what in _WROTE.items()
            if (written := self.given.get(name, "").strip())
        ]


@dataclass(frozen=True, kw_only=True)
class Knot:
    """One stop as it is drawn; ``headline`` is its one big word."""

    stop: Stop
    is_next: bool
    is_open: bool
    headline: str
    dial: Dial | None
    refusal: Refusal | None
    is_today: bool

    @property
    def may_report(self) -> bool:
        """Whether there is anything left to report of it."""
        visit = self.stop.visit
        return visit is not None and visit.state != Stage.State.DONE

    @property
    def due_ms(self) -> int:
        """When the wait at a shut gate is over, in milliseconds as a phone counts them; 0 where there is none."""
        out = self.stop.visit.shut_out if self.stop.visit else None
        return round(out.until.timestamp() * 1000) if out and out.until else 0

    @property
    def told_in(self) -> str:
        """The form that tells what was refused, what was written in it; empty where that form stands here no more."""
        given, visit = self.refusal.given if self.refusal else {}, self.stop.visit
        if visit is None:
            return ""
        open_now = self.may_report and self.is_today
        coats = {str(one.coat) for one in visit.amounts}
        there = {
            "tell": True,
            "back": visit.mistake is not None,
            "amount": given.get("coat") in coats,
            "read": open_now,
            "shut-out": self.is_today and visit.shut_out is not None,
            "overrule": open_now
            and given.get("code") in {one.code for one in visit.lead_may},
        }
        do = given.get("do", "")
        return do if there.get(do) else ""


def of(route: Route, refusal: Refusal | None, today: date) -> Iterator[Knot]:
    """The knots in order; the first visit that is neither done nor held for the owner is next, and open."""
    next_id = next(
        (
            stop.visit.visit_id
            for stop in route.stops
            if stop.visit and not _past(stop.visit)
        ),
        None,
    )
    for stop in route.stops:
        visit_id = stop.visit.visit_id if stop.visit else None
        is_next = visit_id is not None and visit_id == next_id
        own = refusal if refusal and refusal.visit_id == visit_id else None
        sun = stop.visit.sun if stop.visit else None
        yield Knot(
            stop=stop,
            is_next=is_next,
            is_open=is_next or own is not None,
            headline=headline(stop, route),
            dial=dial.of(sun) if sun else None,
            refusal=own,
            is_today=route.day == today,
        )


def _past(visit: VisitCard) -> bool:
    """Whether a visit is done, or her boat was left as nobody could get to her."""
    out = visit.shut_out
    return visit.state == Stage.State.DONE or bool(out and out.left_at)


def headline(stop: Stop, route: Route) -> str:
    """GO, WAIT or NO with its hour in the place's time; that it is done, where it is."""
    if stop.visit is None:
        return ""
    said = stop.visit.ready
    if said is None:
        return "DONE"
    zone = stop.place.zone
    if said.until is not None:
        until = said.until.astimezone(zone)
        later = f"{until:%a} " if until.date() != route.day else ""
        return f"{said.word} until {later}{until:%H:%M}"
    if said.word == "GO":
        ahead = said.at > route.now
        return f"GO at {said.at.astimezone(zone):%H:%M}" if ahead else "GO now"
    return said.word
