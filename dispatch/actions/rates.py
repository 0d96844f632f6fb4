"""The outfit's editable rates and limits: the trade's defaults, with what the owner has set over them."""

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from typing import Any

from django.db import transaction

from dispatch.actions import access, bounds, due, history
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Setting
from dispatch.trade import film, labour
from dispatch.trade.limits import FAMILIES, FamilyLimits, Limits


@dataclass(frozen=True, kw_only=True)
class Planning:
    """What leaving work out costs beside its price: wages are mostly paid anyway, and customers go elsewhere."""

    value_factor: float = 3.0
    least_value_cents: float = 20000.0
    extra_cents: float = 6000.0


_GROUPS: Mapping[str, Any] = {
    "labour": labour.Rates(),
    "coverage": film.Coverage(),
    "limits": Limits(),
    "planning": Planning(),
    **FAMILIES,
}
_OF_THE_SKY = {"limits", *FAMILIES}


@dataclass(frozen=True, kw_only=True)
class Rate:
    """One setting as it stands: its name, its default and the value in force."""

    name: str
    default: float
    value: float


def listed() -> tuple[Rate, ...]:
    """Every setting that is a number, by name."""
    over = _over()
    return tuple(
        Rate(name=name, default=default, value=over.get(name, default))
        for name, default in sorted(_defaults().items())
    )


def labour_rates() -> labour.Rates:
    """The labour factors in force."""
    return replace(labour.Rates(), **_of("labour"))


def coverage() -> film.Coverage:
    """The product rates in force."""
    return replace(film.Coverage(), **_of("coverage"))


def limits() -> Limits:
    """The weather limits in force where no product sheet says otherwise."""
    return replace(Limits(), **_of("limits"))


def planning() -> Planning:
    """What leaving work out costs."""
    return replace(Planning(), **_of("planning"))


def family(name: str) -> FamilyLimits | None:
    """The limits in force for one weather family; None for work the sky does not matter to."""
    return replace(FAMILIES[name], **_of(name)) if name in FAMILIES else None


@transaction.atomic
def change(name: str, value: float, *, by: Account, why: str = "") -> None:
    """Set one rate or limit; when it is one of the sky's, every open stage is judged again by it.

    Raises:
        Refused: there is no such setting, the value is out of its bounds, or it would turn a pair round.
        Stranger: the account is not the owner's.
    """
    access.owner(by)
    defaults = _defaults()
    if name not in defaults:
        raise Refused(f"There is no setting called {name}. Pick one from the list.")
    standing = {rate.name: rate.value for rate in listed()}
    if fault := bounds.fault(name, value, standing, defaults[name]):
        raise Refused(fault)
    Setting.objects.update_or_create(name=name, defaults={"value": value})
    history.write("set", f"setting {name}", f"Set {name} to {value:g}.", by=by, why=why)
    if name.partition(".")[0] in _OF_THE_SKY:
        due.put("judge-book", "all")


def _defaults() -> dict[str, float]:
    return {
        f"{group}.{field.name}": float(value)
        for group, values in _GROUPS.items()
        for field in fields(values)
        if isinstance(value := getattr(values, field.name), int | float)
        and not isinstance(value, bool)
    }


def _over() -> dict[str, float]:
    return dict(Setting.objects.values_list("name", "value"))


def _of(group: str) -> dict[str, Any]:
    return {
        name.partition(".")[2]: value
        for name, value in _over().items()
        if name.startswith(f"{group}.")
    }
