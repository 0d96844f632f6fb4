"""The links to the boats' pages, for the owner to copy and pass on."""

from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import render
from django.views.decorators.http import require_GET

from dispatch.actions import boat_links
from dispatch.web.gate import owner_only


@require_GET
@owner_only
def links(request: HttpRequest) -> HttpResponseBase:
    """Show each boat's link by itself and within words that may be sent to her customer."""
    return render(request, "owner/links.html", {"links": boat_links.all_open()})
