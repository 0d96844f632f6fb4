"""What is entered of a place in single fields, with the units and ranges its page has."""

from dispatch.actions import place_words, setting_units
from dispatch.actions.entries import Entry
from dispatch.actions.place_bounds import NUMBERS
from dispatch.records.models import Place

_TICKS = ("two_part_allowed", "water", "power", "afloat")
_TEXTS = {"name": 80, "address": 200, "gate": 200}
_PICKS = {"spray_rule": Place.SprayRule, "heat_rule": Place.HeatRule}


def entered() -> tuple[Entry, ...]:
    """Every single field of a place."""
    return (
        *(
            _entry(name, "text", longest=longest, may_lack=name != "name")
            for name, longest in _TEXTS.items()
        ),
        _entry("rules", "lines", longest=2000, may_lack=True),
        _entry("time_zone", "zone"),
        *(number(name) for name in NUMBERS),
        *(
            Entry(
                name=name,
                label=place_words.NAMES[name],
                kind="pick",
                choices=tuple((str(k), str(v)) for k, v in choices.choices),
            )
            for name, choices in _PICKS.items()
        ),
        *(_entry(name, "tick") for name in _TICKS),
    )


def number(name: str) -> Entry:
    """One number of a place."""
    least, most, may_lack = NUMBERS[name]
    exact = name in ("latitude", "longitude")
    # A shown position must not lose metres by rounding.
    unit = setting_units.Unit(text="°") if exact else place_words.unit(name)
    whole = name == "sign_in_minutes"
    return Entry(
        name=name,
        label=place_words.NAMES[name],
        kind="degrees" if exact else "whole" if whole else "number",
        unit=unit,
        least=least,
        most=most,
        may_lack=may_lack,
    )


def _entry(name: str, kind: str, *, longest: int = 80, may_lack: bool = False) -> Entry:
    label = place_words.NAMES[name]
    return Entry(name=name, label=label, kind=kind, longest=longest, may_lack=may_lack)
