"""The options as a book of hours: which hours each place has, when it may be loud, when it is shut."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, time

import holidays

DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
FAMILIES = (
    "wash",
    "prep",
    "gelcoat",
    "spray",
    "wipe-on",
    "polish",
    "wax",
    "letters",
    "inside",
)
# The list as it was first given, when wax and letters were told as polish: kept so, it still means them.
_GIVEN_FIRST = frozenset({"wash", "prep", "gelcoat", "spray", "polish"})
_WERE_POLISH = frozenset({"wax", "letters"})
_LINE = re.compile(
    r"(?P<place>\*|[\w-]+)\s+(?P<days>[A-Z][a-z]{2}(-[A-Z][a-z]{2})?)\s+"
    r"(?P<start>\d\d:\d\d)-(?P<end>\d\d:\d\d)"
)
_EXEMPT = re.compile(r"(?P<place>[\w-]+)\s+(?P<day>\d{4}-\d\d-\d\d)")
Hours = Mapping[str, tuple["Open", ...]]


class Unreadable(ValueError):  # noqa: N818 - the text is what cannot be read
    """An option that cannot be read; the text says which and how to write it."""


@dataclass(frozen=True, kw_only=True)
class Open:
    """From ``start`` to ``end`` by the place's clock, on some weekdays (Monday is 0); 24:00 is the day's end."""

    weekdays: frozenset[int]
    start: time
    end: time | None


@dataclass(frozen=True, kw_only=True)
class Book:
    """All that was entered."""

    access: Hours
    noise: Hours
    noisy: frozenset[str]
    closed: frozenset[str]
    exempt: frozenset[tuple[str, date]]
    country: str
    region: str

    def loud_hours(self, place: str) -> tuple[Open, ...] | None:
        """When a place may be loud; None where nobody said."""
        return self.noise.get(place) or self.noise.get("*")

    def holiday(self, place: str, day: date) -> str:
        """The name of the holiday on which a place is shut, or nothing."""
        if not self.country or not self.closed & {place, "*"}:
            return ""
        if (place, day) in self.exempt:
            return ""
        known = holidays.country_holidays(
            self.country, subdiv=self.region or None, years=day.year, language="en_US"
        )
        return str(known.get(day, ""))


def read(options: Mapping[str, object]) -> Book:
    """The book that options make.

    Raises:
        Unreadable: one of them cannot be read.
    """
    noisy = frozenset(str(options["noisy"]).split())
    if strange := sorted(noisy - set(FAMILIES)):
        raise Unreadable(
            f"option noisy has {' '.join(strange)}; there is {', '.join(FAMILIES)}."
        )
    book = Book(
        access=_hours("access", str(options["access"])),
        noise=_hours("noise", str(options["noise"])),
        noisy=noisy | _WERE_POLISH if noisy == _GIVEN_FIRST else noisy,
        closed=frozenset(str(options["closed"]).split()),
        exempt=frozenset(_exempt(line) for line in _lines(options["exempt"])),
        country=str(options["country"]).strip().upper(),
        region=str(options["region"]).strip().upper(),
    )
    _known_country(book)
    return book


def wrong(options: Mapping[str, object]) -> str:
    """What cannot be read, or nothing."""
    try:
        read(options)
    except Unreadable as error:
        return str(error)
    return ""


def _lines(option: object) -> list[str]:
    return [line.strip() for line in str(option).splitlines() if line.strip()]


def _hours(name: str, option: str) -> Hours:
    hours: dict[str, tuple[Open, ...]] = {}
    for line in _lines(option):
        place, opened = _open(name, line)
        hours[place] = (*hours.get(place, ()), opened)
    return hours


def _open(name: str, line: str) -> tuple[str, Open]:
    found = _LINE.fullmatch(line)
    how = f"option {name}: {line[:60]!r} is not as marrow-road Mon-Fri 07:00-17:00."
    if not found:
        raise Unreadable(how)
    try:
        first, _, last = found["days"].partition("-")
        weekdays = _weekdays(DAYS.index(first), DAYS.index(last or first))
        start = time.fromisoformat(found["start"])
        end = None if found["end"] == "24:00" else time.fromisoformat(found["end"])
    except ValueError as error:
        raise Unreadable(how) from error
    if end is not None and end <= start:
        raise Unreadable(f"option {name}: {line[:60]!r} ends before it begins.")
    return found["place"], Open(weekdays=weekdays, start=start, end=end)


def _weekdays(first: int, last: int) -> frozenset[int]:
    """A run of weekdays; Sat-Mon goes on over the week's end."""
    return frozenset((first + n) % 7 for n in range((last - first) % 7 + 1))


def _exempt(line: str) -> tuple[str, date]:
    found = _EXEMPT.fullmatch(line)
    how = f"option exempt: {line[:60]!r} is not as marrow-road 2027-05-31."
    if not found:
        raise Unreadable(how)
    try:
        return found["place"], datetime.strptime(found["day"], "%Y-%m-%d").date()  # noqa: DTZ007 - a day has no zone
    except ValueError as error:
        raise Unreadable(how) from error


def _known_country(book: Book) -> None:
    known = holidays.list_supported_countries()
    if book.country and book.country not in known:
        raise Unreadable(
            f"option country is {book.country}; two letters of ISO 3166 are wanted, as US."
        )
    if book.region and book.region not in known.get(book.country, []):
        raise Unreadable(
            f"option region is {book.region}; {book.country or 'no country'} has "
            f"{', '.join(known.get(book.country, [])) or 'none'}."
        )
