"""A step of the catalogue as fields of a form, and entered fields as values again."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from dispatch.actions import catalogue_bounds, skill_words
from dispatch.actions.catalogue_bounds import NUMBERS, PER_REPAIR, SIZES
from dispatch.actions.per_length import PerLength
from dispatch.records.models import CatalogueRow
from dispatch.web.owner import meanwhile
from dispatch.web.owner.form import Back
from dispatch.web.owner.meanwhile import WAS, Crossed, Stands


@dataclass(frozen=True, kw_only=True)
class Field:
    """One field: ``was`` is what it was shown with, ``entered`` what is in it; ``choices`` where one picks.

    ``now`` says what stands where somebody else changed it.
    """

    name: str
    label: str
    unit: str = ""
    was: str
    entered: str
    choices: tuple[tuple[str, str], ...] = ()
    fault: str = ""
    now: str = ""


@dataclass(frozen=True, kw_only=True)
class Group:
    """Fields that belong together."""

    title: str
    about: str
    fields: tuple[Field, ...]


_GROUPS: tuple[tuple[str, str, tuple[str, ...]], ...] = (
    (
        "Labour-minutes {a}",
        "By the condition of the hull.",
        ("per_ft_1", "per_ft_2", "per_ft_3", "per_ft_4"),
    ),
    (
        "Labour-minutes a repair",
        "For each gelcoat repair, by size.",
        ("per_repair.S", "per_repair.M", "per_repair.L"),
    ),
    (
        "Labour-minutes whatever her length",
        "Time by the clock is not shortened by more hands.",
        ("fixed_minutes", "per_panel", "clock_minutes", "share"),
    ),
    (
        "Waits",
        "Steps that may be done meanwhile fill a wait; the others stand still until it is over. A fill is left by its size and warmth.",
        ("hold_minutes", "meanwhile"),
    ),
    (
        "Who, and by which sky",
        "Hands above the most of use do not make it quicker.",
        ("crew_min", "crew_max", "skill", "family"),
    ),
)
_WHOLE = ("crew_min", "crew_max")
_YES_NO = {"yes": True, "no": False}


def groups(
    row: CatalogueRow,
    back: Back,
    sky_names: Mapping[str, str],
    per: PerLength,
) -> tuple[Group, ...]:
    """The form's groups as they stand, with what was sent and what is said of it."""
    named = ("What it is called", "", ("name",))
    return tuple(
        Group(
            title=title.format(a=per.a),
            about=about,
            fields=tuple(_field(row, name, back, sky_names, per) for name in names),
        )
        for title, about, names in (named, *_GROUPS)
    )


def values(
    row: CatalogueRow, sent: Mapping[str, str], per: PerLength
) -> dict[str, Any]:
    """What was sent and differs from what the form had shown; what is no number stays text, to be refused."""
    given = {
        name: _read(name, sent[f"v:{name}"], per)
        for name in _names()
        if f"v:{name}" in sent and sent[f"v:{name}"].strip() != sent.get(f"{WAS}{name}")
    }
    return _with_repairs(row, given)


def seen(row: CatalogueRow, sent: Mapping[str, str], per: PerLength) -> dict[str, Any]:
    """What the form had shown; what still reads so counts as what stands, however it was rounded."""
    shown = {
        name: getattr(row, name)
        if sent[f"{WAS}{name}"] == _shown(row, name, per)
        else _read(name, sent[f"{WAS}{name}"], per)
        for name in _names()
        if f"{WAS}{name}" in sent and not name.startswith("per_repair")
    }
    if any(f"{WAS}per_repair.{size}" in sent for size in SIZES):
        sizes = {
            s: _read("", sent.get(f"{WAS}per_repair.{s}", "0"), per) for s in SIZES
        }
        shown["per_repair"] = sizes
    return shown


def crossed(
    row: CatalogueRow,
    sent: Mapping[str, str],
    sky_names: Mapping[str, str],
    per: PerLength,
) -> Crossed:
    """What comes back of a form that somebody else was quicker than."""
    given = {n.removeprefix("v:"): text for n, text in sent.items()}
    found = meanwhile.crossed(
        given, {name: _stands(row, name, sky_names, per) for name in _names()}
    )
    kept = {f"v:{n}" if n in _names() else n: text for n, text in found.sent.items()}
    return Crossed(sent=kept, said=found.said)


def label(name: str, per: PerLength) -> str:
    """What a field is called."""
    return _called(name, per)[0]


def repairs(row: CatalogueRow) -> dict[str, float]:
    """Labour-minutes a repair of every size."""
    return {size: float(row.per_repair.get(size, 0)) for size in SIZES}


def _names() -> tuple[str, ...]:
    return ("name", *(name for _, _, names in _GROUPS for name in names))


def _with_repairs(row: CatalogueRow, given: dict[str, Any]) -> dict[str, Any]:
    """Sizes of repairs as the one field they are."""
    sizes = {n.partition(".")[2]: v for n, v in given.items() if "." in n}
    plain = {name: value for name, value in given.items() if "." not in name}
    return plain | ({"per_repair": {**row.per_repair, **sizes}} if sizes else {})


def _read(name: str, text: str, per: PerLength) -> Any:  # noqa: ANN401 - a number where it is one
    if name in ("name", "skill", "family"):
        return text.strip()
    if name == "meanwhile":
        return _YES_NO.get(text, text)
    read: Callable[[str], float] = int if name in _WHOLE else float
    try:
        number = read(text)
        return per.stored(number) if name.startswith("per_ft_") else number
    except ValueError:
        return text


def _field(
    row: CatalogueRow,
    name: str,
    back: Back,
    sky_names: Mapping[str, str],
    per: PerLength,
) -> Field:
    sent = back.sent or {}
    shown = _shown(row, name, per)
    label, unit = _called(name, per)
    return Field(
        name=name,
        label=label,
        unit=unit,
        was=sent.get(f"{WAS}{name}", shown),
        entered=sent.get(f"v:{name}", shown),
        choices=_picks(name, sky_names),
        fault=back.faults.get(name, ""),
        now=(back.crossed or {}).get(name, ""),
    )


def _picks(name: str, sky_names: Mapping[str, str]) -> tuple[tuple[str, str], ...]:
    if name == "skill":
        skills = catalogue_bounds.skills()
        return tuple((one, skill_words.called(one)) for one in skills)
    if name == "meanwhile":
        return (("yes", "Yes"), ("no", "No"))
    return tuple(sky_names.items()) if name == "family" else ()


def _stands(
    row: CatalogueRow, name: str, sky_names: Mapping[str, str], per: PerLength
) -> Stands:
    """How a field stands now, with its unit or in the words that are picked."""
    shown, unit = _shown(row, name, per), _called(name, per)[1]
    if name == "name":
        return Stands(shown=shown, said=meanwhile.quoted(shown))
    picks = dict(_picks(name, sky_names))
    said = picks.get(shown, shown) if picks else f"{float(shown):g} {unit}".strip()
    return Stands(shown=shown, said=said)


def _shown(row: CatalogueRow, name: str, per: PerLength) -> str:
    if name.startswith("per_repair."):
        return _plain(repairs(row)[name.partition(".")[2]])
    value = getattr(row, name)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if name.startswith("per_ft_") and per.metric:
        value = round(per.shown(value), 3)
    return value if isinstance(value, str) else _plain(value)


def _plain(number: float) -> str:
    """A number to the last digit, so that it reads back as itself."""
    return str(number).removesuffix(".0")


def _called(name: str, per: PerLength) -> tuple[str, str]:
    if name.startswith("per_repair."):
        size = SIZES[name.partition(".")[2]]
        return f"{size.capitalize()} repair", PER_REPAIR[1]
    if name in NUMBERS:
        return catalogue_bounds.called(name, per)
    named = {
        "name": "Name",
        "skill": "Skill",
        "family": "Sky",
        "meanwhile": catalogue_bounds.MEANWHILE,
    }
    return named[name], ""
