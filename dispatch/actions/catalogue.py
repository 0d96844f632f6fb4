"""The stage catalogue: read it by visit, change a step or a price, and reckon what a boat would take."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.db import transaction

from dispatch.actions import (
    access,
    catalogue_bounds,
    history,
    keeping,
    rates,
    refiguring,
)
from dispatch.actions.errors import Refused
from dispatch.actions.recipes import RECIPES, After, Recipe
from dispatch.records.models import Account, CatalogueRow, JobKind
from dispatch.trade import labour


@dataclass(frozen=True, kw_only=True)
class VisitSteps:
    """One visit of a kind of job: the shape of the work, what it comes after in words, its steps in order."""

    recipe: Recipe
    after: tuple[str, ...]
    rows: tuple[CatalogueRow, ...]


def visits(kind: JobKind) -> tuple[VisitSteps, ...]:
    """A kind's visits in the order they are done, each with its steps."""
    rows, most = list(kind.rows.order_by("position")), rates.waits()
    names = {recipe.visit: recipe.name for recipe in RECIPES.get(kind.key, ())}
    return tuple(
        VisitSteps(
            recipe=recipe,
            after=tuple(
                _hold(
                    after,
                    names.get(after.visit, after.visit),
                    most.get(f"{kind.key}.{recipe.visit}.{after.visit}"),
                )
                for after in recipe.after
            ),
            rows=tuple(row for row in rows if row.visit == recipe.visit),
        )
        for recipe in RECIPES.get(kind.key, ())
    )


def labour_minutes(
    rows: tuple[CatalogueRow, ...], *, feet: float, grade: int, medium_repairs: int
) -> float:
    """Labour-minutes of steps for a centre console, neither long nor hard to get at, with power and water."""
    minutes = (
        row.share
        * (
            labour.labour_minutes(
                fixed=row.fixed_minutes,
                per_ft=getattr(row, f"per_ft_{grade}"),
                length_ft=feet,
                factor=1.0,
            )
            + row.per_repair.get("M", 0) * medium_repairs
        )
        for row in rows
    )
    return float(sum(minutes))


@transaction.atomic
def change_row(
    row: CatalogueRow,
    values: Mapping[str, Any],
    *,
    by: Account,
    why: str = "",
    seen: Mapping[str, Any] | None = None,
) -> CatalogueRow:
    """Change some fields of a step, in labour-minutes; return it as it stands now.

    ``seen`` is what whoever changes it saw, by field. Jobs in the book are left to the worker to reckon again.

    Raises:
        Refused: a value will not do.
        Stale: the step is not what was seen, or was changed just now.
        Stranger: the account is not the owner's.
    """
    access.owner(by)
    if faults := catalogue_bounds.faults(row, values):
        raise Refused(next(iter(faults.values())))
    before = CatalogueRow.objects.select_related("kind").get(pk=row.pk)
    new = _differing(before, values)
    old = {name: getattr(before, name) for name in new}
    _fresh(before, old, seen or {})
    if not new:
        return before
    if not CatalogueRow.objects.filter(pk=row.pk, **old).update(**new):
        raise keeping.crossed(before.name)
    subject = f"catalogue {before.kind.key} {before.position}"
    told = "; ".join(catalogue_bounds.told(name, old[name], new[name]) for name in new)
    history.write(
        "set", subject, f"{before.kind.name}, {before.name}: {told}.", by=by, why=why
    )
    refiguring.ask(before.kind.key)
    return CatalogueRow.objects.select_related("kind").get(pk=row.pk)


def kind_values(kind: JobKind) -> dict[str, Any]:
    """What of a kind of job is changed on its page."""
    names = ("name", "cents_per_ft", "flat_cents", "bumped_first")
    return {name: getattr(kind, name) for name in names}


@transaction.atomic
def change_kind(
    kind: JobKind,
    values: Mapping[str, Any],
    *,
    by: Account,
    why: str = "",
    seen: str = "",
) -> JobKind:
    """Change what a kind of job is called, costs, and whether it is bumped first; jobs taken keep their price.

    ``seen`` is the print of it as whoever changes it saw it.

    Raises:
        Refused: a value will not do.
        Stale: it was changed meanwhile.
        Stranger: the account is not the owner's.
    """
    access.owner(by)
    if faults := catalogue_bounds.kind_faults(values):
        raise Refused(next(iter(faults.values())))
    before = JobKind.objects.select_for_update().get(pk=kind.pk)
    keeping.fresh(before.name, kind_values(before), seen)
    new = _differing(before, values)
    if new:
        JobKind.objects.filter(pk=kind.pk).update(**new)
        told = "; ".join(
            catalogue_bounds.told(n, getattr(before, n), v) for n, v in new.items()
        )
        subject = f"catalogue {before.key}"
        history.write("set", subject, f"{before.name}: {told}.", by=by, why=why)
    return JobKind.objects.get(pk=kind.pk)


def _differing(
    before: CatalogueRow | JobKind, values: Mapping[str, Any]
) -> dict[str, Any]:
    """Those values that are not what stands, names without blanks around them."""
    plain = {n: v.strip() if isinstance(v, str) else v for n, v in values.items()}
    return {n: v for n, v in plain.items() if getattr(before, n) != v}


def _fresh(
    before: CatalogueRow, old: Mapping[str, Any], seen: Mapping[str, Any]
) -> None:
    """Refuse to write over what whoever changes it has not seen."""
    for name in old:
        if name in seen and not _alike(seen[name], old[name]):
            raise keeping.crossed(before.name)


def _alike(one: object, other: object) -> bool:
    """Whether two values are the same; a size of repair left out is nought."""
    if isinstance(one, Mapping) and isinstance(other, Mapping):
        sizes = catalogue_bounds.SIZES
        return all(one.get(size, 0) == other.get(size, 0) for size in sizes)
    return one == other


def _hold(after: After, name: str, most_minutes: float | None) -> str:
    """What a visit comes after, by its name, and how long after, in plain words."""
    waits = {
        "": "",
        "sandable": ", once its film can be sanded",
        "refit": ", once its film is hard enough for letters",
        "kicked": ", once its fill has kicked",
    }[after.set_to]
    most = f", at most {most_minutes / 60:g} h later" if most_minutes else ""
    return f"after “{name}”{waits}{most}"
