"""What a step of the catalogue, and a kind of job, may be set to, and what each of their fields is called."""

import math
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from dispatch.actions import history, per_length
from dispatch.actions.per_length import PerLength
from dispatch.records.models import CatalogueRow, Skill
from dispatch.trade.limits import FAMILIES

SIZES: Mapping[str, str] = {"S": "small", "M": "medium", "L": "large"}
# Field: what it is called, its unit, the least and the most.
NUMBERS: Mapping[str, tuple[str, str, float, float]] = {
    "fixed_minutes": ("Once a visit", "labour-minutes", 0, 2880),
    "clock_minutes": ("By the clock, whatever the team", "minutes", 0, 2880),
    "hold_minutes": ("Left afterwards, as to dry", "minutes", 0, 2880),
    "per_ft_1": ("Grade 1, glossy", "labour-minutes {a}", 0, 500),
    "per_ft_2": ("Grade 2, dull", "labour-minutes {a}", 0, 500),
    "per_ft_3": ("Grade 3, chalks a rag", "labour-minutes {a}", 0, 500),
    "per_ft_4": ("Grade 4, peels or chalks wet", "labour-minutes {a}", 0, 500),
    "per_panel": ("For each panel", "labour-minutes", 0, 2880),
    "share": ("Part that falls to this visit", "", 0.01, 1),
    "crew_min": ("Team at least", "people", 1, 12),
    "crew_max": ("Team at most of use", "people", 1, 12),
}
MEANWHILE = "Done while she dries or a fill kicks"
_YES_NO = {
    "bumped_first": ("bumped first", "no longer bumped first"),
    "meanwhile": (MEANWHILE.lower(), f"no longer {MEANWHILE.lower()}"),
}
PER_REPAIR = ("For each {size} repair", "labour-minutes", 0.0, 2880.0)
PRICES: Mapping[str, tuple[str, str, float, float]] = {
    "cents_per_ft": ("Price {a}", "cents", 0, 10_000_000),
    "flat_cents": ("Price flat", "cents", 0, 100_000_000),
}
_ALL: Mapping[str, tuple[str, str, float, float]] = {**NUMBERS, **PRICES}
_WHOLE = {"crew_min", "crew_max", *PRICES}
_WORDS = {"name": "Name", "skill": "Skill", "family": "Goes by the sky's limits for"}
_GUNS = {"spray-1", "spray-2"}
_BY_LENGTH = {*(name for name in NUMBERS if name.startswith("per_ft_")), "cents_per_ft"}
_FEET = PerLength()


def families() -> tuple[str, ...]:
    """The weather families a step may belong to."""
    return ("any", *FAMILIES)


def skills() -> tuple[str, ...]:
    """The skills that are known: those of people, and those the catalogue asks for already."""
    known = set(Skill.objects.values_list("name", flat=True)) - {""}
    return tuple(
        sorted(known | set(CatalogueRow.objects.values_list("skill", flat=True)))
    )


def called(name: str, per: PerLength) -> tuple[str, str]:
    """What a number of a step or a price is called, and its unit, by the length people read."""
    label, unit, _, _ = _ALL[name]
    return label.format(a=per.a), unit.format(a=per.a)


def faults(
    row: CatalogueRow, values: Mapping[str, Any], per: PerLength = _FEET
) -> dict[str, str]:
    """What is wrong with new values of a step, a sentence by field; a repair's field is ``per_repair.M``.

    Values are by the foot; the sentences speak of the length that ``per`` has.
    """
    found = {
        field: said
        for name, value in values.items()
        for field, said in _faults(name, value, per)
    }
    return found or dict(_together(row, values))


def kind_faults(values: Mapping[str, Any]) -> dict[str, str]:
    """What is wrong with new values of a kind of job, a sentence by field."""
    found = {}
    for name, value in values.items():
        if name in PRICES:
            said = _number(name, value, _told_of(name, _FEET))
        elif name == "name":
            said = _name(value, 80)
        elif name == "bumped_first":
            said = "" if isinstance(value, bool) else "Bumped first is yes or no."
        else:
            said = f"A kind of job has no {name} to change."
        if said:
            found[name] = said
    return found


def told(name: str, before: Any, after: Any) -> str:  # noqa: ANN401 - whatever the field holds
    """A change in words, to which value and what it was."""
    if name == "per_repair":
        sizes = [s for s in SIZES if before.get(s, 0) != after.get(s, 0)]
        return ", ".join(
            f"each {SIZES[s]} repair {_turned(before.get(s, 0), after.get(s, 0), 'labour-minutes')}"
            for s in sizes
        )
    per = per_length.of_outfit()
    if name in _BY_LENGTH:
        before, after = (round(per.shown(one), 2) for one in (before, after))
    if name in PRICES:
        label = called(name, per)[0].lower()
        return (
            f"{label} {history.turned(f'${before / 100:.2f}', f'${after / 100:.2f}')}"
        )
    if name in NUMBERS:
        label, unit = called(name, per)
        return f"{label[:1].lower()}{label[1:]} {_turned(before, after, unit)}"
    if name in _YES_NO:
        return _YES_NO[name][0 if after else 1]
    return f"{_WORDS[name].lower()} {history.turned(str(before), str(after))}"


def _turned(before: float, after: float, unit: str) -> str:
    return history.turned(f"{before:g}", f"{after:g} {unit}".strip())


def _faults(
    name: str,
    value: Any,  # noqa: ANN401
    per: PerLength,
) -> Iterator[tuple[str, str]]:
    if name == "per_repair":
        yield from _repairs(value)
        return
    checks: Mapping[str, Callable[[], str]] = {
        "name": lambda: _name(value, 120),
        "skill": lambda: _one_of("skill", value, skills()),
        "family": lambda: _one_of("kind of weather", value, families()),
        "meanwhile": lambda: (
            "" if isinstance(value, bool) else f"{MEANWHILE}: yes or no."
        ),
    }
    if name in NUMBERS:
        said = _number(name, value, _told_of(name, per), per)
    else:
        said = checks.get(name, lambda: f"A step has no {name} to change.")()
    if said:
        yield name, said


def _repairs(value: Any) -> Iterator[tuple[str, str]]:  # noqa: ANN401
    if not isinstance(value, Mapping) or set(value) - set(SIZES):
        yield "per_repair", "Give labour-minutes a repair by S, M and L."
        return
    for size, minutes in value.items():
        told_of = (PER_REPAIR[0].format(size=SIZES[size]), *PER_REPAIR[1:])
        if said := _number("per_repair", minutes, told_of):
            yield f"per_repair.{size}", said


def _told_of(name: str, per: PerLength) -> tuple[str, str, float, float]:
    """A number's name, unit, least and most, those two by the foot."""
    _, _, least, most = _ALL[name]
    return *called(name, per), least, most


def _number(
    name: str,
    value: Any,  # noqa: ANN401
    told_of: tuple[str, str, float, float],
    per: PerLength = _FEET,
) -> str:
    label, unit, least, most = told_of
    fits = (
        isinstance(value, int | float)
        and not isinstance(value, bool)
        and math.isfinite(value)
        and least <= value <= most
        and (name not in _WHOLE or value == int(value))
    )
    whole = "a whole number" if name in _WHOLE else "a number"
    if name in _BY_LENGTH:
        # Rounded inwards, so that what is told is allowed.
        least, most = math.ceil(per.shown(least)), math.floor(per.shown(most))
    return (
        ""
        if fits
        else f"{label}: give {whole} from {least:g} to {most:g} {unit}".strip() + "."
    )


def _name(value: Any, longest: int) -> str:  # noqa: ANN401
    fits = isinstance(value, str) and 1 <= len(value.strip()) <= longest
    return "" if fits else f"Give it a name, of at most {longest} characters."


def _one_of(what: str, value: Any, known: tuple[str, ...]) -> str:  # noqa: ANN401
    if value in known:
        return ""
    return (
        f"There is no {what} called {str(value)[:40]}. Use one of {', '.join(known)}."
    )


def _together(
    row: CatalogueRow, values: Mapping[str, Any]
) -> Iterator[tuple[str, str]]:
    """What is wrong with the step as a whole."""
    new = {n: values.get(n, getattr(row, n)) for n in ("crew_min", "crew_max", "skill")}
    if new["crew_min"] > new["crew_max"]:
        yield (
            "crew_min",
            f"The team at least ({new['crew_min']}) is above the team at most ({new['crew_max']}). Change both together.",
        )
    elif new["skill"] in _GUNS and new["crew_min"] < 2:
        yield (
            "crew_min",
            "Spraying takes two people, gun and hose. Set the team to 2 at least.",
        )
