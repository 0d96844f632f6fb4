"""The owner's stage catalogue: kinds of job, their visits and steps, and what a boat takes by them."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import cast

from django.contrib import messages
from django.db.models import Q
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET, require_http_methods

from dispatch.actions import (
    asked_prices,
    catalogue,
    catalogue_bounds,
    keeping,
    per_length,
)
from dispatch.actions.catalogue import VisitSteps
from dispatch.actions.errors import Stale
from dispatch.actions.setting_subjects import BY_KEY
from dispatch.records.models import Account, CatalogueRow, JobKind
from dispatch.web.gate import owner_only
from dispatch.web.owner import catalogue_form, meanwhile
from dispatch.web.owner.catalogue_kind import kind_faults, kind_stands, kind_values
from dispatch.web.owner.form import Back
from dispatch.web.owner.meanwhile import WAS
from dispatch.web.owner.settings import changes, the_outfit, unfinished

_FEET = 20
_GRADES = (1, 2, 3, 4)
_WHY_MOST = 500
_DOES = (
    "New jobs are reckoned by it. Stages in the book that are neither posted nor begun are reckoned "
    "again within a minute or so. Visits already posted stay as they are."
)


@dataclass(frozen=True, kw_only=True)
class KindLine:
    """A kind of job on the first page: its visits, and the hours a 20 ft boat takes by grade."""

    kind: JobKind
    visits: tuple[VisitSteps, ...]
    hours: tuple[float, ...]

    @property
    def steps(self) -> int:
        """How many steps there are."""
        return sum(len(one.rows) for one in self.visits)


def line(kind: JobKind) -> KindLine:
    """A kind of job with what it takes: with one medium repair where it has repairs, by grade."""
    found = catalogue.visits(kind)
    rows = tuple(row for one in found for row in one.rows)
    minutes = [
        catalogue.labour_minutes(rows, feet=_FEET, grade=grade, medium_repairs=1)
        for grade in _GRADES
    ]
    return KindLine(
        kind=kind, visits=found, hours=tuple(minute / 60 for minute in minutes)
    )


def sky_names() -> dict[str, str]:
    """What the families of weather are called."""
    names = {
        key: BY_KEY[key].name for key in catalogue_bounds.families() if key in BY_KEY
    }
    return {"any": "Any sky"} | names


@require_GET
@owner_only
def overview(request: HttpRequest) -> HttpResponseBase:
    """Show every kind of job with its price and its hours."""
    outfit = the_outfit()
    kinds = JobKind.objects.prefetch_related("rows").order_by("name")
    context = {
        "lines": [line(kind) for kind in kinds],
        "pricing": asked_prices.who(),
        **_lengths(),
        "changes": changes(outfit, Q(subject__startswith="catalogue ")),
        **unfinished(),
    }
    return render(request, "owner/catalogue.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def kind(request: HttpRequest, key: str) -> HttpResponseBase:
    """Show a kind of job's visits and steps, and set what it costs."""
    row = get_object_or_404(JobKind, key=key)
    if request.method != "POST":
        return _kind(request, row, Back())
    sent = cast("Mapping[str, str]", request.POST.dict())
    why, per = sent.get("why", "").strip(), per_length.of_outfit()
    values = kind_values(row, sent, per)
    if faults := kind_faults(values, per) | _too_long(why):
        return _kind(request, row, Back(sent=sent, faults=faults))
    by, seen = cast("Account", request.user), sent.get("seen", "")
    try:
        catalogue.change_kind(row, values, by=by, why=why, seen=seen)
    except Stale as stale:
        again = meanwhile.crossed(sent, kind_stands(row, per))
        said = {"": str(stale)}
        back = Back(sent=again.sent, faults=said, crossed=again.said)
        return _kind(request, row, back)
    told = "Set. Jobs already taken keep their price."
    messages.success(request, told if values else "Nothing was different.")
    return redirect("catalogue-kind", key=key)


def _kind(request: HttpRequest, row: JobKind, back: Back) -> HttpResponseBase:
    key, per, sent = row.key, per_length.of_outfit(), back.sent
    stands, crossed = kind_stands(row, per), back.crossed
    subjects = Q(subject=f"catalogue {key}") | Q(
        subject__startswith=f"catalogue {key} "
    )
    labels = {"name": "Name", "per_ft": f"Price {per.a}", "flat": "Price flat"}
    context = {
        "line": line(row),
        "pricing": asked_prices.who(),
        **_lengths(),
        "skies": sky_names(),
        "entered": {
            name: sent.get(name, "") if sent else now.shown
            for name, now in stands.items()
        },
        "was": {
            name: (sent or {}).get(f"{WAS}{name}", now.shown)
            for name, now in stands.items()
        },
        "why": (sent or {}).get("why", ""),
        "seen": (sent or {}).get("seen")
        or keeping.print_of(catalogue.kind_values(row)),
        "refused": back.faults.get("", ""),
        "faults": back.faults,
        "now": crossed or {},
        "crossed": None
        if crossed is None
        else [(name, labels.get(name, "Bumped first")) for name in crossed],
        "changes": changes(the_outfit(), subjects),
        **unfinished(),
    }
    status = 422 if back.faults else 200
    return render(request, "owner/catalogue_kind.html", context, status=status)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def step(request: HttpRequest, key: str, position: int) -> HttpResponseBase:
    """Show a step, and set it."""
    row = get_object_or_404(
        CatalogueRow.objects.select_related("kind"), kind__key=key, position=position
    )
    if request.method != "POST":
        return _step(request, row, Back())
    sent = cast("Mapping[str, str]", request.POST.dict())
    why = sent.get("why", "").strip()
    per = per_length.of_outfit()
    values = catalogue_form.values(row, sent, per)
    if faults := catalogue_bounds.faults(row, values, per) | _too_long(why):
        return _step(request, row, Back(sent=sent, faults=faults))
    try:
        by, seen = cast("Account", request.user), catalogue_form.seen(row, sent, per)
        catalogue.change_row(row, values, by=by, why=why, seen=seen)
    except Stale as stale:
        row.refresh_from_db()
        again = catalogue_form.crossed(row, sent, sky_names(), per)
        said = {"": str(stale)}
        back = Back(sent=again.sent, faults=said, crossed=again.said)
        return _step(request, row, back)
    told = f"{row.name} is set. {_DOES}" if values else "Nothing was different."
    messages.success(request, told)
    return redirect("catalogue-kind", key=key)


def _lengths() -> Mapping[str, object]:
    """How lengths are read, and how long the boat is that hours are told of."""
    per = per_length.of_outfit()
    return {"per": per, "long": per.long(_FEET)}


def _too_long(why: str) -> dict[str, str]:
    said = f"Keep the reason under {_WHY_MOST} characters."
    return {"why": said} if len(why) > _WHY_MOST else {}


def _step(request: HttpRequest, row: CatalogueRow, back: Back) -> HttpResponseBase:
    per = per_length.of_outfit()
    takes = [
        catalogue.labour_minutes((row,), feet=_FEET, grade=grade, medium_repairs=1)
        for grade in _GRADES
    ]
    context = {
        "row": row,
        "groups": catalogue_form.groups(row, back, sky_names(), per),
        "refused": back.faults.get("", ""),
        "faults": back.faults,
        "crossed": None
        if back.crossed is None
        else [(name, catalogue_form.label(name, per)) for name in back.crossed],
        "why": (back.sent or {}).get("why", ""),
        "does": _DOES,
        "takes": takes,
        **_lengths(),
        "changes": changes(
            the_outfit(), Q(subject=f"catalogue {row.kind.key} {row.position}")
        ),
    }
    status = 422 if back.faults else 200
    return render(request, "owner/catalogue_step.html", context, status=status)
