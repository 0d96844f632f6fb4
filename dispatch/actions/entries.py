"""One thing the owner enters of a row: what it is called, how it is read from what was written, and shown again."""

import math
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Any
from zoneinfo import ZoneInfo, available_timezones

from django.core.exceptions import ValidationError
from django.core.validators import validate_email

from dispatch.actions.board_words import of_day
from dispatch.actions.setting_units import Unit
from dispatch.records.models import Outfit

YES, NO = "yes", "no"
_YES = {YES, "y", "on", "true", "1"}
_NO = {NO, "n", "", "off", "false", "0"}
_PLAIN = Unit(text="")
DOLLARS = Unit(text="$", scale=0.01)
_FIRST, _LAST = date(1900, 1, 1), date(2100, 1, 1)
# In 1,360.50 and 1,360,000 the commas part thousands; in 6,1 it stands for the point.
_THOUSANDS = re.compile(r"(?<=\d),(?=\d{3}(\D|$))")
_DECIMAL = re.compile(r"(?<=\d),(?=\d{1,2}$|\d{4,}$)")
_LINKS = re.compile(r"[\s().\-/]")
# E.164: a plus, the country, at most 15 figures.
_PHONE = re.compile(r"\+[1-9]\d{6,14}")
_OF_NORTH_AMERICA = re.compile(r"^(\+1)(\d{3})(\d{3})(\d{4})$")


@dataclass(frozen=True, kw_only=True)
class Entry:
    """One thing entered; ``kind`` is text, lines, number, degrees, whole, tick, pick, date, time, moment, phone, email or zone.

    ``least`` and ``most`` are in what is stored; ``unit`` is what people write it in. ``choices`` are keys with
    their words. Moments are written on the clock of ``clock_zone``.
    """

    name: str
    label: str
    kind: str = "text"
    unit: Unit = _PLAIN
    least: float = 0
    most: float = 1e9
    longest: int = 80
    may_lack: bool = False
    choices: tuple[tuple[str, str], ...] = ()
    hint: str = ""
    clock_zone: str = "UTC"

    @property
    def marked_optional(self) -> bool:
        """Whether its label says that it may be left empty; a pick says so itself, by its choice "none"."""
        return self.may_lack and self.kind != "pick"

    def read(self, written: str) -> Any:  # noqa: ANN401 - whatever the table holds
        """What was written, as it is stored; nothing is None, or empty where it is a text.

        Raises:
            ValueError: it will not do; says what is wrong and what to write.
        """
        kept = written.replace("\r\n", "\n").strip()
        if self.kind == "tick":
            return _tick(kept)
        if not kept:
            return self._lacking()
        return _READERS[self.kind](self, kept)

    def _lacking(self) -> str | None:
        if not self.may_lack:
            raise ValueError("Fill this in.")
        return "" if self.kind in _TEXTS else None

    def shown(self, value: Any) -> str:  # noqa: ANN401
        """A stored value as it is written in a form or a file."""
        if self.kind == "tick":
            return YES if value else NO
        if value is None or value == "":
            return ""
        return _SHOWERS.get(self.kind, _as_text)(self, value)

    def lacks(self, value: Any) -> bool:  # noqa: ANN401
        """Whether a stored value is none at all."""
        return value in (None, "") and self.kind != "tick"

    def said(self, value: Any) -> str:  # noqa: ANN401
        """A stored value in words."""
        if self.lacks(value):
            return "not set"
        if self.kind == "pick":
            return dict(self.choices).get(str(value), str(value))
        if self.kind in ("number", "degrees", "whole"):
            return self.unit.said(value)
        if self.kind == "phone":
            return grouped(value)
        dated = self.kind in ("date", "moment")
        return _day_said(self, value) if dated else self.shown(value)


def read(
    entries: Iterable[Entry], written: Mapping[str, str]
) -> tuple[dict[str, Any], dict[str, str]]:
    """What was written as values by name, and what is wrong with the others, a sentence by name."""
    values: dict[str, Any] = {}
    faults: dict[str, str] = {}
    for entry in entries:
        try:
            values[entry.name] = entry.read(written.get(entry.name, ""))
        except ValueError as error:
            faults[entry.name] = str(error)
    return values, faults


def read_over(
    entries: Iterable[Entry], written: Mapping[str, str], stands: Mapping[str, Any]
) -> tuple[dict[str, Any], dict[str, str]]:
    """The same over what stands: a value written as it is shown stays as it is, to the last figure."""
    rows = tuple(entries)
    values, faults = read(rows, written)
    for entry in rows:
        stood = stands.get(entry.name)
        as_shown = written.get(entry.name, "") == entry.shown(stood)
        if stood is not None and as_shown and entry.name in values:
            values[entry.name] = stood
    return values, faults


def grouped(phone: str) -> str:
    """A number of North America in the groups it is read in, +1 207 555 0131; any other as it is kept."""
    return _OF_NORTH_AMERICA.sub(r"\1 \2 \3 \4", phone)


def system() -> str:
    """The units the outfit reads and writes in."""
    return Outfit.objects.values_list("units", flat=True).first() or Outfit.Units.US


def _tick(kept: str) -> bool:
    if kept.lower() not in _YES | _NO:
        raise ValueError("Say yes or no.")
    return kept.lower() in _YES


def _text(entry: Entry, kept: str) -> str:
    if len(kept) > entry.longest:
        raise ValueError(f"Keep it to {entry.longest} characters; it has {len(kept)}.")
    if any(ord(one) < 32 and one not in "\n\t" for one in kept):
        raise ValueError("Leave out characters that cannot be printed.")
    return kept


def _number(entry: Entry, kept: str) -> float:
    ask = f"Give a number {_range(entry)}"
    try:
        value = entry.unit.stored(pointed(kept))
    except ValueError as error:
        raise ValueError(f"{ask}.") from error
    if not math.isfinite(value) or not entry.least <= round(value, 6) <= entry.most:
        raise ValueError(f"{ask}.")
    return value


def _range(entry: Entry) -> str:
    """From which number to which, as people write them: from 0 to 44,092 lb, from -$500 to $500."""
    low, high = map(float, entry.unit.inside(entry.least, entry.most))
    if not entry.unit.text.startswith("$"):
        return f"from {low:,.10g} to {high:,.10g} {entry.unit.text}".strip()
    sign = "-" if low < 0 else ""
    ends = f"from {sign}${abs(low):,.10g} to ${high:,.10g}"
    return f"{ends}{entry.unit.text.removeprefix('$')}"


def pointed(kept: str) -> str:
    """A number with a point: a comma before three figures parts thousands, any other is a decimal comma."""
    return _DECIMAL.sub(".", _THOUSANDS.sub("", kept))


def _whole(entry: Entry, kept: str) -> int:
    value = _number(entry, kept)
    if abs(value - round(value)) > 1e-6:
        raise ValueError(
            "Give it to the whole cent."
            if entry.unit.text == "$"
            else "Give a whole number."
        )
    return round(value)


def _pick(entry: Entry, kept: str) -> str:
    known = {key.lower(): key for key, _ in entry.choices}
    named = [key for key, said in entry.choices if said.lower() == kept.lower()]
    if kept.lower() not in known and len(named) > 1:
        raise ValueError(
            f"{len(named)} are called {kept[:60]}. Give one of {', '.join(named)}."
        )
    found = known.get(kept.lower()) or next(iter(named), None)
    if found is None:
        some = ", ".join(said for _, said in entry.choices[:8])
        raise ValueError(
            f"There is no {kept[:60]} to choose. Choose one of: {some or 'none yet'}."
        )
    return found


def _date(_: Entry, kept: str) -> date:
    try:
        found = date.fromisoformat(kept)
    except ValueError as error:
        raise ValueError("Give a day as 2027-05-24.") from error
    if not _FIRST <= found <= _LAST:
        raise ValueError(f"{found.year} cannot be right. Check the year.")
    return found


def _time(_: Entry, kept: str) -> time:
    try:
        return time.fromisoformat(kept).replace(tzinfo=None)
    except ValueError as error:
        raise ValueError("Give a time of day as 07:30.") from error


def _moment(entry: Entry, kept: str) -> datetime:
    try:
        found = datetime.fromisoformat(kept.replace(" ", "T"))
    except ValueError as error:
        raise ValueError("Give a day and a time as 2027-05-24 07:30.") from error
    if not _FIRST <= found.date() <= _LAST:
        raise ValueError(f"{found.year} cannot be right. Check the year.")
    return found if found.tzinfo else found.replace(tzinfo=ZoneInfo(entry.clock_zone))


def _phone(_: Entry, kept: str) -> str:
    bare = _LINKS.sub("", kept)
    if not _PHONE.fullmatch(bare):
        raise ValueError("Write the number with its country, as +1 207 555 0131.")
    return bare


def _email(_: Entry, kept: str) -> str:
    try:
        validate_email(kept)
    except ValidationError as error:
        raise ValueError("Write an e-mail address as ames@example.com.") from error
    return kept


def _zone(_: Entry, kept: str) -> str:
    known = available_timezones()
    if kept not in known:
        meant = _close(kept, known) or "America/New_York"
        raise ValueError(f"There is no time zone {kept[:60]}. Write it as {meant}.")
    return kept


def _close(written: str, known: set[str]) -> str:
    """The zones that have a word of what was written in their names, the three shortest."""
    word = written.split(",")[0].strip().replace(" ", "_").lower()
    near = [name for name in known if word in name.lower()]
    return " or ".join(sorted(near, key=lambda name: (len(name), name))[:3])


_TEXTS = {"text", "lines", "phone", "email", "zone"}
_READERS: Mapping[str, Callable[[Entry, str], Any]] = {
    "text": _text,
    "lines": _text,
    "number": _number,
    "degrees": _number,
    "whole": _whole,
    "pick": _pick,
    "date": _date,
    "time": _time,
    "moment": _moment,
    "phone": _phone,
    "email": _email,
    "zone": _zone,
}


def _day_said(entry: Entry, value: date | datetime) -> str:
    """A day as people read it, with the clock where it has one: Tue 1 Jun 2027 17:00."""
    if not isinstance(value, datetime):
        return f"{of_day(value)} {value.year}"
    local = value.astimezone(ZoneInfo(entry.clock_zone))
    return f"{of_day(local)} {local.year} {local:%H:%M}"


def _as_text(_: Entry, value: object) -> str:
    return str(value)


_SHOWERS: Mapping[str, Callable[[Entry, Any], str]] = {
    "number": lambda entry, value: entry.unit.shown(value),
    "whole": lambda entry, value: entry.unit.shown(value),
    "time": lambda _, value: f"{value:%H:%M}",
    "moment": lambda entry, value: (
        f"{value.astimezone(ZoneInfo(entry.clock_zone)):%Y-%m-%d %H:%M}"
    ),
}
