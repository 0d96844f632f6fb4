"""The owner's pages of vans, trailers and canopies: a list, one page each, new ones."""

from django.db.models import Q
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods

from dispatch.actions import clock, vans
from dispatch.actions import gear as gear_verbs
from dispatch.records.models import Equipment, Van
from dispatch.web.gate import owner_only
from dispatch.web.owner import form
from dispatch.web.owner.form import Form, Sent
from dispatch.web.owner.settings import changes, the_outfit

_DOES = "The next week that is built goes by it. Posted days are not moved."
# What belongs together, each by the entry it begins with.
_VAN = (
    ("The van", "name"),
    ("Its day, and what it costs", "duty_start"),
)
_GEAR = (
    ("What it is", "name"),
    ("To set it up and drive with it", "take_minutes"),
    ("Where it stands now", "stands"),
    ("What it keeps off", "screens"),
)


@require_GET
@owner_only
def overview(request: HttpRequest) -> HttpResponseBase:
    """List what drives and what is towed, with where each stands."""
    rows = [
        (row, ", ".join(vans.gear_words(row.gear)))
        for row in Van.objects.select_related("base").order_by("-active", "name")
    ]
    things = [
        (
            thing,
            vans.gear_words([thing.kind])[0],
            gear_verbs.brings(thing),
            thing.standings.filter(since__lte=clock.now()).last(),
        )
        for thing in Equipment.objects.order_by("-active", "name")
    ]
    context = {"vans": rows, "things": things, "here": "crew"}
    return render(request, "owner/wheels.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def new_van(request: HttpRequest) -> HttpResponseBase:
    """Add a van."""

    def store(sent: Sent) -> tuple[str, str]:
        row = vans.add(sent.values, by=sent.by)
        return reverse("wheels"), f"{row.name} is in use now."

    return form.answer(
        request,
        Form(
            title="A new van",
            here="crew",
            groups=form.parted(vans.entered(), _VAN),
            stands=vans.blank(),
            check=vans.faults,
            store=store,
            button="Add the van",
            back=(reverse("wheels"), "All wheels"),
            asks_why=False,
            fresh=True,
        ),
    )


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def van(request: HttpRequest, key: str) -> HttpResponseBase:
    """Show a van, and set what was changed."""
    row = get_object_or_404(Van.objects.select_related("base"), key=key)

    def store(sent: Sent) -> tuple[str, str]:
        told = vans.change(row, sent.values, by=sent.by, why=sent.why, seen=sent.seen)
        return reverse("van", args=[key]), form.changed_words(told)

    made = Form(
        title=row.name,
        here="crew",
        groups=form.parted(vans.entered(), _VAN),
        stands=vans.values(row),
        check=vans.faults,
        store=store,
        button="Save the van",
        back=(reverse("wheels"), "All wheels"),
        does=_DOES,
    )
    more = {
        "van": row,
        "off": row.days_off.filter(on__gte=clock.today()),
        "changes": changes(the_outfit(), Q(subject=f"van {key}")),
    }
    return form.answer(request, made, template="owner/van.html", more=more)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def new_gear(request: HttpRequest) -> HttpResponseBase:
    """Add a trailer or a canopy."""

    def store(sent: Sent) -> tuple[str, str]:
        row = gear_verbs.add(sent.values, by=sent.by)
        return reverse("wheels"), f"{row.name} is in use now."

    return form.answer(
        request,
        Form(
            title="A new trailer or canopy",
            here="crew",
            groups=form.parted(gear_verbs.entered(), _GEAR),
            stands=gear_verbs.blank(),
            store=store,
            button="Add it",
            back=(reverse("wheels"), "All wheels"),
            asks_why=False,
            fresh=True,
        ),
    )


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def gear(request: HttpRequest, key: str) -> HttpResponseBase:
    """Show a trailer or a canopy, and set what was changed."""
    row = get_object_or_404(Equipment, key=key)

    def store(sent: Sent) -> tuple[str, str]:
        told = gear_verbs.change(
            row, sent.values, by=sent.by, why=sent.why, seen=sent.seen
        )
        return reverse("gear", args=[key]), form.changed_words(told)

    made = Form(
        title=row.name,
        here="crew",
        groups=form.parted(gear_verbs.entered(), _GEAR),
        stands=gear_verbs.values(row),
        store=store,
        button="Save it",
        back=(reverse("wheels"), "All wheels"),
        does=_DOES,
    )
    more = {"changes": changes(the_outfit(), Q(subject=f"gear {key}"))}
    return form.answer(request, made, more=more)
