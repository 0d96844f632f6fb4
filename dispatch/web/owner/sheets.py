"""The owner's pages of products: a new one by its data sheet, one to read and change."""

from django.db.models import Q
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from dispatch.actions import sheets
from dispatch.records.models import Sheet
from dispatch.web.gate import owner_only
from dispatch.web.owner import form
from dispatch.web.owner.form import Form, Sent
from dispatch.web.owner.settings import changes, the_outfit

_LEAD = "Enter what the maker's sheet says. Where this page and the sheet differ, the sheet decides."
# What belongs together on a data sheet; each begins with the entry named.
_BEGINS = (
    ("What it is", "name"),
    ("Air and surface", "air_min_c"),
    ("Wind", "wind_max_ms"),
    ("Coats and cure", "flash_ref_minutes"),
    ("Film", "solids_pct"),
    ("On the shelf, and people", "opened_shelf_days"),
)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def new(request: HttpRequest) -> HttpResponseBase:
    """Add a product."""

    def store(sent: Sent) -> tuple[str, str]:
        row = sheets.add(sent.values, by=sent.by)
        return reverse("stores"), f"{row.name} is known now."

    return form.answer(
        request,
        Form(
            title="A new product",
            here="crew",
            groups=form.parted(sheets.entered(), _BEGINS),
            stands=sheets.blank(),
            check=sheets.faults,
            store=store,
            button="Add the product",
            lead=_LEAD,
            back=(reverse("stores"), "The stores"),
            asks_why=False,
            fresh=True,
        ),
    )


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def one(request: HttpRequest, key: str) -> HttpResponseBase:
    """Show a product, and set what was changed."""
    row = get_object_or_404(Sheet, key=key)

    def store(sent: Sent) -> tuple[str, str]:
        told = sheets.change(row, sent.values, by=sent.by, why=sent.why, seen=sent.seen)
        return reverse("sheet", args=[key]), form.changed_words(told)

    made = Form(
        title=row.name,
        here="crew",
        groups=form.parted(sheets.entered(), _BEGINS),
        stands=sheets.values(row),
        check=sheets.faults,
        store=store,
        button="Save the product",
        lead=_LEAD,
        back=(reverse("stores"), "The stores"),
        does="Every open job is judged again by it, and film that sets is reckoned again.",
    )
    more = {"changes": changes(the_outfit(), Q(subject=f"product {key}"))}
    return form.answer(request, made, more=more)
