"""The owner's pages of boats: a list to search, her card to change, a new one, her photos."""

from typing import cast

from django.contrib import messages
from django.db.models import Q
from django.http import FileResponse, Http404, HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import (
    require_GET,
    require_http_methods,
    require_POST,
)

from dispatch.actions import boats, photos, pictures
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Boat, Photo
from dispatch.web import sent_back
from dispatch.web.gate import owner_only
from dispatch.web.owner import form
from dispatch.web.owner.form import Form, Groups, Sent
from dispatch.web.owner.settings import changes, the_outfit

_LIES = (
    "place",
    "berth",
    "heading_deg",
    "heading_reference",
    "on_trailer",
    "turned_heading_deg",
)


@require_GET
@owner_only
def overview(request: HttpRequest) -> HttpResponseBase:
    """List the boats."""
    words = request.GET.get("q", "")[:80].strip()
    rows = Boat.objects.select_related("customer", "place")
    if words:
        rows = rows.filter(
            Q(name__icontains=words)
            | Q(make__icontains=words)
            | Q(registration__icontains=words)
            | Q(customer__name__icontains=words)
            | Q(place__name__icontains=words)
        )
    return render(request, "owner/boats.html", {"boats": rows, "q": words})


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def new(request: HttpRequest) -> HttpResponseBase:
    """Add a boat, of the customer named in the address where one is."""
    stands = boats.blank() | {"customer": request.GET.get("customer", "")}

    def save(sent: Sent) -> tuple[str, str]:
        boat = boats.add(sent.values, by=sent.by)
        return reverse("boat-card", args=[boat.key]), f"{boat.name} is in the book."

    made = Form(
        title="A new boat",
        here="book",
        groups=_groups(),
        stands=stands,
        check=boats.faults,
        store=save,
        button="Add the boat",
        back=(reverse("boats"), "All boats"),
        asks_why=False,
        fresh=True,
    )
    return form.answer(request, made)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def card(request: HttpRequest, key: str) -> HttpResponseBase:
    """Show what is known of a boat, and set what was changed."""
    boat = get_object_or_404(Boat.objects.select_related("customer", "place"), key=key)

    def save(sent: Sent) -> tuple[str, str]:
        told = boats.change(boat, sent.values, by=sent.by, why=sent.why, seen=sent.seen)
        return reverse("boat-card", args=[key]), form.changed_words(told)

    made = Form(
        title=boat.name,
        here="book",
        groups=_groups(),
        stands=boats.values(boat),
        check=boats.faults,
        store=save,
        button="Save the boat",
        back=(reverse("boats"), "All boats"),
        does="Her open jobs are reckoned again where length, shape or place was changed, and judged again "
        "where the sky matters. Posted visits are not moved: build the week again.",
    )
    more = {
        "boat": boat,
        "jobs": boat.jobs.select_related("kind").order_by("-taken_at"),
        "photos": boat.photos.all(),
        "changes": changes(the_outfit(), Q(subject=f"boat {boat.key}")),
    }
    return form.answer(request, made, template="owner/boat_card.html", more=more)


@require_POST
@owner_only
def photo_add(request: HttpRequest, key: str) -> HttpResponseBase:
    """Keep photos of a boat."""
    boat = get_object_or_404(Boat, key=key)
    by, words = cast("Account", request.user), request.POST.get("words", "")
    sent = request.FILES.getlist("photos")[: photos.MOST_A_BOAT]
    if not sent:
        none = Refused("No photo was chosen. Choose one or more first.")
        return sent_back.to(request, _card(key), "photos", none)
    try:
        # A byte more than is allowed is enough to refuse it by.
        read = [one.read(pictures.MOST_BYTES + 1) for one in sent]
        photos.add(boat, read, words=words, by=by)
    except Refused as refusal:
        again = Refused(f"{refusal} Choose the photos again.")
        return sent_back.to(request, _card(key), "photos", again)
    messages.success(request, f"{len(sent)} kept.")
    return redirect(f"{_card(key)}#photos")


@require_POST
@owner_only
def photo_remove(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Take a photo out."""
    photo = get_object_or_404(Photo.objects.select_related("boat"), pk=pk)
    key = photo.boat.key
    photos.remove(photo, by=cast("Account", request.user))
    messages.success(request, "The photo is taken out.")
    return redirect(f"{_card(key)}#photos")


def _card(key: str) -> str:
    return reverse("boat-card", args=[key])


@require_GET
@owner_only
def photo(_: HttpRequest, pk: int) -> HttpResponseBase:
    """Show the picture itself."""
    row = get_object_or_404(Photo, pk=pk)
    path = photos.where(row)
    if not path.exists():
        raise Http404("The file of this photo is gone.")
    return FileResponse(path.open("rb"), content_type=f"image/{row.kind}")


def _groups() -> Groups:
    rows = boats.entered()
    return (
        ("Whose and what she is", tuple(e for e in rows if e.name not in _LIES)),
        ("Where and how she lies", tuple(e for e in rows if e.name in _LIES)),
    )
