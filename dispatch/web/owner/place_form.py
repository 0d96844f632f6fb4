"""A place's single fields as they stand in its form, and what was entered as values again."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from dispatch.actions import place_words, places
from dispatch.actions.place_bounds import NUMBERS
from dispatch.records.models import Place
from dispatch.web.owner import meanwhile
from dispatch.web.owner.meanwhile import WAS, Stands

_CHOICES = {"spray_rule": Place.SprayRule.choices, "heat_rule": Place.HeatRule.choices}
_TICKS = ("two_part_allowed", "water", "power", "afloat")
_MAY_LACK = ("address", "gate", "rules")
_EXACT = ("latitude", "longitude")
_GROUPS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("What it is", ("name", "address", "gate", "rules", "sign_in_minutes")),
    (
        "What it allows and has",
        ("spray_rule", "heat_rule", *_TICKS, "swing_room_m", "water_off_m"),
    ),
    ("Where it lies", (*_EXACT, "time_zone", "declination_deg")),
    (
        "How its sky differs from the forecast",
        ("wind_factor", "day_offset_k", "night_offset_k"),
    ),
)


@dataclass(frozen=True, kw_only=True)
class Field:
    """One field; ``kind`` is text, lines, number, tick or pick; ``was`` is what it was shown with.

    ``now`` says what stands where somebody else changed it.
    """

    name: str
    label: str
    kind: str
    entered: str
    unit: str
    choices: tuple[tuple[str, str], ...]
    fault: str
    optional: bool
    was: str
    now: str

    @property
    def keys(self) -> str:
        """Which keys a phone offers for a number: those for decimals alone have no minus on some."""
        return "text" if NUMBERS[self.name][0] < 0 else "decimal"


def groups(
    place: Place,
    sent: Mapping[str, str],
    faults: Mapping[str, str],
    crossed: Mapping[str, str],
) -> tuple[tuple[str, tuple[Field, ...]], ...]:
    """The form's fields by group, as they stand or as they were sent; ``crossed`` says what stands meanwhile, by name."""
    now = stands(place)
    return tuple(
        (
            title,
            tuple(
                _field(
                    name,
                    sent.get(name, "") if sent else now[name].shown,
                    was=sent.get(f"{WAS}{name}", now[name].shown),
                    fault=faults.get(name, ""),
                    now=crossed.get(name, ""),
                )
                for name in names
            ),
        )
        for title, names in _GROUPS
    )


def stands(place: Place) -> dict[str, Stands]:
    """How every field stands now."""
    now = places.values(place)
    return {
        name: Stands(shown=_shown(name, now[name]), said=_said(name, now[name]))
        for _, names in _GROUPS
        for name in names
    }


def values(place: Place, sent: Mapping[str, str]) -> dict[str, Any]:
    """What was changed of what the form had shown, in SI; what is no number stays text, to be refused."""
    now = stands(place)
    given = {name: meanwhile.plain(sent.get(name, "")) for name in now}
    return {
        name: _read(name, entered)
        for name, entered in given.items()
        if entered != meanwhile.plain(sent.get(f"{WAS}{name}", now[name].shown))
    }


def _field(name: str, entered: str, *, was: str, fault: str, now: str) -> Field:
    kind = _kind(name)
    return Field(
        name=name,
        label=place_words.NAMES[name],
        kind=kind,
        entered=entered,
        unit=place_words.unit(name).text if kind == "number" else "",
        choices=tuple((str(key), str(said)) for key, said in _CHOICES.get(name, ())),
        fault=fault,
        optional=name in _MAY_LACK or NUMBERS.get(name, (0, 0, False))[2],
        was=was,
        now=now,
    )


def _said(name: str, value: Any) -> str:  # noqa: ANN401 - whatever the field holds
    text = _kind(name) in ("text", "lines")
    return meanwhile.quoted(value) if text else place_words.said(name, value)


def _kind(name: str) -> str:
    if name in NUMBERS:
        return "number"
    if name in _TICKS:
        return "tick"
    if name in _CHOICES:
        return "pick"
    return "lines" if name == "rules" else "text"


def _shown(name: str, value: Any) -> str:  # noqa: ANN401 - whatever the field holds
    if name in _TICKS:
        return "on" if value else ""
    if name not in NUMBERS:
        return str(value).replace("\r\n", "\n")
    if value is None:
        return ""
    return str(value) if name in _EXACT else place_words.unit(name).shown(value)


def _read(name: str, entered: str) -> Any:  # noqa: ANN401
    if name in _TICKS:
        return bool(entered)
    if name not in NUMBERS:
        return entered.replace("\r\n", "\n")
    if not entered:
        return None
    try:
        stored = place_words.unit(name).stored(entered)
    except ValueError:
        return entered
    return round(stored) if name == "sign_in_minutes" else stored
