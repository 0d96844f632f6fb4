"""The owner's pages of places: a list of them, and one to read and change."""

from collections.abc import Mapping
from typing import cast

from django.contrib import messages
from django.db.models import Count, Q
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods

from dispatch.actions import (
    driven,
    keeping,
    place_bounds,
    place_words,
    places,
    plugins,
)
from dispatch.actions.errors import Refused, Stale
from dispatch.records.models import Account, Place
from dispatch.web.gate import owner_only
from dispatch.web.owner import form, meanwhile, place_form, place_new, place_rows
from dispatch.web.owner.form import Form, Sent
from dispatch.web.owner.settings import changes, the_outfit, unfinished

_WHY_MOST = 500


@require_GET
@owner_only
def overview(request: HttpRequest) -> HttpResponseBase:
    """Show every place with what it allows and how many boats lie there."""
    rows = Place.objects.annotate(lie=Count("boats")).order_by("name")
    context = {
        "places": rows,
        "driven": driven.learnt(),
        "least_drives": driven.LEAST_DRIVES,
        "tells": any(True for _ in plugins.enabled("drives")),
        "changes": changes(
            the_outfit(), Q(subject__startswith="place ", verb="set-place")
        ),
    }
    return render(request, "owner/places.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def one(request: HttpRequest, key: str) -> HttpResponseBase:
    """Show a place, and set what was changed of it."""
    place = get_object_or_404(Place, key=key)
    if request.method != "POST":
        return _form(request, place, {}, {})
    sent = cast("Mapping[str, str]", request.POST.dict())
    why = sent.get("why", "").strip()
    new = place_form.values(place, sent) | place_rows.values(place, sent)
    faults = place_bounds.faults(new)
    if len(why) > _WHY_MOST:
        faults["why"] = f"Keep the reason under {_WHY_MOST} characters."
    if faults:
        return _form(request, place, sent, faults)
    try:
        _set(request, place, new, why)
    except Stale as stale:
        stands = place_form.stands(place) | place_rows.stands(place)
        again = meanwhile.crossed({**sent, **place_rows.sent_as_one(sent)}, stands)
        kept = place_rows.apart(again.sent)
        return _form(request, place, kept, {"": str(stale)}, again.said)
    except Refused as refusal:
        return _form(request, place, sent, {"": str(refusal)})
    return redirect("place", key=key)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def new(request: HttpRequest) -> HttpResponseBase:
    """Add a place by what matters first; the rest stands on its own page."""

    def store(sent: Sent) -> tuple[str, str]:
        given = {n: v for n, v in sent.values.items() if n not in place_new.HOURS}
        start, end = (sent.values[name] for name in place_new.HOURS)
        hours = (start, end) if start and end else None
        row = places.add(given, hours, by=sent.by)
        told = f"{row.name} is added. Neighbours, horizon and shut days stand on its own page."
        return reverse("place", args=[row.key]), told

    made = Form(
        title="A new place",
        here="places",
        groups=place_new.groups(),
        stands=place_new.blank(),
        check=place_new.faults,
        store=store,
        button="Add the place",
        back=(reverse("places"), "All places"),
        asks_why=False,
        fresh=True,
    )
    return form.answer(request, made)


def _set(
    request: HttpRequest, place: Place, new: Mapping[str, object], why: str
) -> None:
    by, seen = cast("Account", request.user), request.POST.get("seen", "")
    told = places.change(place, new, by=by, why=why, seen=seen)
    if told:
        messages.success(request, f"Set: {'; '.join(told)}.")
    else:
        messages.info(request, "Nothing was different, so nothing was changed.")


def _form(
    request: HttpRequest,
    place: Place,
    sent: Mapping[str, str],
    faults: Mapping[str, str],
    crossed: Mapping[str, str] | None = None,
) -> HttpResponseBase:
    """The page; ``crossed`` says by name what somebody else changed meanwhile."""
    context = {
        "place": place,
        "groups": place_form.groups(place, sent, faults, crossed or {}),
        "rows": place_rows.of(place, sent, faults, crossed or {}),
        "refused": faults.get("", ""),
        "faults": faults,
        "crossed": None
        if crossed is None
        else [(name, place_words.NAMES[name]) for name in crossed],
        "why": sent.get("why", ""),
        "seen": sent.get("seen") or keeping.print_of(places.values(place)),
        "boats": place.boats.order_by("name"),
        "changes": changes(
            the_outfit(), Q(subject=f"place {place.key}", verb="set-place")
        ),
        **unfinished(),
    }
    status = 422 if faults else 200
    return render(request, "owner/place.html", context, status=status)
