"""A boat's page for the person who owns her: where she stands, what comes next, how to help, what was done."""

from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from django.conf import settings

from dispatch.actions import (
    access,
    boat_help,
    boat_next,
    boat_stands,
    boat_strip,
    clock,
    customer_word,
)
from dispatch.actions.boat_strip import Piece
from dispatch.actions.errors import Refused
from dispatch.actions.stages import true_heading
from dispatch.records.models import Job, Outfit
from dispatch.trade.words import Words


@dataclass(frozen=True, kw_only=True)
class BoatPage:
    """One boat for her owner: no price, no name of the crew, nobody else's boat.

    ``panels`` says of each panel of the hull whether it is bare, wet or hard;
    ``answers`` are keys with the words of their buttons, ``answered`` what was said last.
    """

    boat: str
    about: str
    place: str
    outfit: str
    phone: str
    as_of: datetime
    stands: str
    comes_next: str
    promised: str
    help: tuple[str, ...]
    strip: tuple[Piece, ...]
    panels: dict[str, str]
    heading_true_deg: float | None
    answers: tuple[tuple[str, str], ...]
    answered: str


def boat_page(job: Job) -> BoatPage:
    """The page of a job's boat as things stand now, in the time of the place where she lies."""
    now, boat, outfit = clock.now(), job.boat, Outfit.objects.get()
    strip = boat_strip.of(job, now)
    long = Words(system=outfit.units).distance(boat.length_m)
    return BoatPage(
        boat=boat.name,
        about=f"{long} {boat.shape.replace('-', ' ')}, {job.kind.name.lower()}",
        place=boat.place.name,
        outfit=outfit.name,
        phone=outfit.phone,
        as_of=now.astimezone(ZoneInfo(boat.place.time_zone)),
        stands=boat_stands.of(job, now),
        comes_next=boat_next.of(job, now),
        promised=boat_next.promised(job),
        help=tuple(boat_help.of(job, now)),
        strip=strip,
        panels=boat_stands.panels(job, now),
        heading_true_deg=_heading(job),
        answers=_answers(job),
        answered=customer_word.last(job),
    )


def _answers(job: Job) -> tuple[tuple[str, str], ...]:
    """What may be answered, by key with the words of its button."""
    if not customer_word.may_answer(job):
        return ()
    return tuple((key, one.button) for key, one in customer_word.ANSWERS.items())


def link(job: Job) -> str:
    """The whole address that opens a boat's page without signing in, for the owner to pass on."""
    return f"{settings.PUBLIC_URL}/boat/{access.boat_link(job)}/"


def _heading(job: Job) -> float | None:
    try:
        return true_heading(job)
    except Refused:
        return None
