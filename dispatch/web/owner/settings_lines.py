"""Rates and limits as lines of a page, in the outfit's units, and entered lines as values again."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from dispatch.actions import (
    bounds,
    rates,
    setting_subjects,
    setting_units,
    setting_words,
    settings,
)
from dispatch.actions.bounds import Fault
from dispatch.actions.setting_subjects import Subject
from dispatch.actions.setting_units import Unit
from dispatch.web.owner import meanwhile
from dispatch.web.owner.meanwhile import WAS, Stands


@dataclass(frozen=True, kw_only=True)
class Line:
    """One setting: ``value`` is in force (SI), ``shown`` its bare number, ``entered`` what stands in its field.

    ``now`` says what it stands at where somebody else set it meanwhile; ``back`` is ticked to take it to its default.
    """

    name: str
    label: str
    source: str
    unit: Unit
    value: float
    shown: str
    entered: str
    said: str
    default_shown: str
    default_said: str
    changed: bool
    least: str
    most: str
    fault: str = ""
    now: str = ""
    back: bool = False

    @property
    def told(self) -> str:
        """The id of what is told of it."""
        return f"{self.name}-told"

    @property
    def keys(self) -> str:
        """Which keys a phone offers for it: those for decimals alone have no minus on some."""
        return "text" if self.least.startswith("-") else "decimal"

    @property
    def range(self) -> str:
        """Which numbers are allowed, in a sentence."""
        lacks = "" if self.default_shown else ", or nothing for no limit"
        return f"From {self.least} to {self.most} {self.unit.text}".rstrip() + lacks


def lines(subject: Subject, system: str) -> tuple[Line, ...]:
    """The settings of a subject in the order one would say them."""
    found = [r for r in rates.listed() if setting_subjects.of(r.name) == subject]
    found.sort(key=lambda rate: setting_words.place(rate.name))
    return tuple(_line(rate, system) for rate in found)


def _line(rate: rates.Rate, system: str) -> Line:
    unit = setting_units.unit(rate.name, system)
    least, most = unit.inside(*bounds.span(rate.name))
    return Line(
        name=rate.name,
        label=setting_words.label(rate.name),
        source=setting_words.source(rate.name),
        unit=unit,
        value=rate.value,
        shown=unit.shown(rate.value),
        entered=unit.shown(rate.value),
        said=unit.said(rate.value),
        default_shown=unit.shown(rate.default),
        default_said=unit.said(rate.default),
        changed=rate.changed,
        least=least,
        most=most,
    )


@dataclass(frozen=True, kw_only=True)
class Entered:
    """What was sent: the lines as they stand in their fields, and the values to set where no line is at fault.

    ``crossed`` are those that somebody else set meanwhile: nothing is set before that was looked at.
    """

    lines: tuple[Line, ...]
    values: Mapping[str, float | None]
    crossed: tuple[Line, ...] = ()

    @property
    def faulty(self) -> bool:
        """Whether anything is wrong with any line."""
        return any(line.fault for line in self.lines)


def entered(shown: tuple[Line, ...], sent: Mapping[str, str]) -> Entered:
    """Read what was sent: ``v:name``, ``was:name`` (what the page had shown) and ``back:name``."""
    values: dict[str, float | None] = {}
    read = [_read(line, sent, values) for line in shown]
    faults = settings.faults(values)
    judged = [_judged(one, faults.get(one.name), shown, values) for one in read]
    crossed = tuple(one for one in judged if one.now and one.name in values)
    return Entered(lines=tuple(judged), values=values, crossed=crossed)


def _read(line: Line, sent: Mapping[str, str], values: dict[str, float | None]) -> Line:
    """One line as sent; what it changes goes into ``values``."""
    was = sent.get(f"{WAS}{line.name}", line.shown)
    text = sent.get(f"v:{line.name}", was).strip()
    back = f"back:{line.name}" in sent
    now = Stands(shown=line.shown, said=line.said)
    said = meanwhile.met(line.default_shown if back else text, was, now).said
    if text in (was, line.shown) and not back:
        return replace(line, now=said)
    kept = replace(line, entered=text, now=said, back=back)
    if back or text == line.default_shown:
        values[line.name] = None
        return kept
    try:
        values[line.name] = line.unit.stored(text)
    except ValueError:
        return replace(kept, fault=_ask(line))
    return kept


def _judged(
    line: Line,
    fault: Fault | None,
    shown: tuple[Line, ...],
    values: Mapping[str, float | None],
) -> Line:
    """The line with what is wrong with its value beside the others."""
    if fault is None:
        return line
    if not fault.low:
        return replace(line, fault=_ask(line))
    low = line.name == fault.low
    other = next(one for one in shown if one.name == (fault.high if low else fault.low))
    stands = _stands(other, values)
    side = "above" if low else "below"
    said = f"This may not be {side} “{other.label}”, {stands}. Change both together."
    return replace(line, fault=said)


def _stands(line: Line, values: Mapping[str, float | None]) -> str:
    """What a line would stand at."""
    if line.name not in values:
        return line.said
    value = values[line.name]
    return line.default_said if value is None else line.unit.said(value)


def _ask(line: Line) -> str:
    ask = "Enter a time, as 08:00" if line.unit.clock else "Enter a number"
    return f"{ask}. {line.range}; the default is {line.default_said}."
