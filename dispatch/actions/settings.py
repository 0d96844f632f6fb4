"""Set the outfit's rates and limits: one or several at once, all or nothing."""

from collections.abc import Mapping

from django.db import transaction

from dispatch.actions import (
    access,
    bounds,
    drives,
    due,
    history,
    keeping,
    rates,
    setting_subjects,
    setting_units,
    setting_words,
)
from dispatch.actions.bounds import Fault
from dispatch.actions.errors import Refused
from dispatch.actions.setting_subjects import Effect
from dispatch.records.models import Account, Outfit, Setting

# What each effect leaves behind for the worker.
_DUE = {Effect.SKY: "judge-book", Effect.JOBS: "refigure-book"}


def change(name: str, value: float, *, by: Account, why: str = "") -> None:
    """Set one rate or limit. It refuses what ``change_all`` refuses."""
    change_all({name: value}, by=by, why=why)


@transaction.atomic
def change_all(
    values: Mapping[str, float | None],
    *,
    by: Account,
    why: str = "",
    seen: Mapping[str, float] | None = None,
) -> None:
    """Set several rates and limits, in SI; None takes one back to its default. All or nothing.

    ``seen`` is how whoever sets them saw them stand, by name. Each has a line of its own in the history. What hangs on them is judged or reckoned again by a worker.

    Raises:
        Refused: there is no such setting, a value is out of its bounds, or a pair would be turned round.
        Stale: one does not stand as it was seen.
        Stranger: the account is not the owner's.
    """
    access.owner(by)
    # One writer after the other: what was seen and how two stand to each other still holds when they are stored.
    outfit = Outfit.objects.select_for_update().first()
    _refuse(values)
    before = {rate.name: rate for rate in rates.listed()}
    if any(before[name].value != value for name, value in (seen or {}).items()):
        raise keeping.crossed("One of these")
    units = outfit.units if outfit else "us"
    for name, value in values.items():
        _set(name, value)
        _tell(before[name], value, units, by=by, why=why)
    for verb in {_DUE[e] for e in map(setting_subjects.effect, values) if e in _DUE}:
        due.put(verb, "all")
    if any(name.startswith("travel.") for name in values):
        drives.later()


def faults(values: Mapping[str, float | None]) -> dict[str, Fault]:
    """What is wrong with values if they were set together, by name; empty where nothing is."""
    defaults, standing = rates.defaults(), _standing(values)
    found = {n: bounds.check(n, standing[n], standing, defaults[n]) for n in values}
    return {name: fault for name, fault in found.items() if fault}


def _standing(values: Mapping[str, float | None]) -> dict[str, float]:
    """Every setting as it would stand."""
    standing, defaults = {r.name: r.value for r in rates.listed()}, rates.defaults()
    for name, value in values.items():
        if name not in defaults:
            raise Refused(f"There is no setting called {name}. Pick one from the list.")
        standing[name] = defaults[name] if value is None else value
    return standing


def _refuse(values: Mapping[str, float | None]) -> None:
    defaults, standing = rates.defaults(), _standing(values)
    for name in values:
        if fault := bounds.fault(name, standing[name], standing, defaults[name]):
            raise Refused(fault)


def _set(name: str, value: float | None) -> None:
    if value is None:
        Setting.objects.filter(name=name).delete()
    else:
        Setting.objects.update_or_create(name=name, defaults={"value": value})


def _tell(
    before: rates.Rate, value: float | None, system: str, *, by: Account, why: str
) -> None:
    """Write the history's line: what it is called, to which value and what it was, in the outfit's units."""
    unit = setting_units.unit(before.name, system)
    after = before.default if value is None else value
    back = ", its default" if value is None else ""
    history.write(
        "set",
        f"setting {before.name}",
        f"{setting_words.quoted(before.name)} {history.turned(unit.said(before.value), unit.said(after) + back)}.",
        by=by,
        why=why,
    )
