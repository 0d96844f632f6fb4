"""A person's visits for their own calendar: the addresses, and what a calendar reads there."""

from typing import cast

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_safe

from dispatch.actions import access, feeds
from dispatch.actions.errors import Stranger
from dispatch.records.models import Account
from dispatch.web.gate import crew_only

_SOON_S = 60


@require_http_methods(["GET", "HEAD", "POST"])
@crew_only
def links(request: HttpRequest) -> HttpResponseBase:
    """Show a person the addresses of their calendars, and make a new one."""
    person = access.crew_member(request.user)
    if request.method == "POST":
        try:
            plugin = request.POST.get("plugin", "")
            feeds.open_anew(person, plugin, by=_account(request))
        except Stranger as stranger:
            raise PermissionDenied(str(stranger)) from stranger
        return redirect("feeds")
    found = [
        (one, request.build_absolute_uri(reverse("feed", args=[one.word])))
        if one.word
        else (one, "")
        for one in feeds.of(person)
    ]
    return render(request, "crew/feeds.html", {"feeds": found})


@require_safe
@never_cache
def serve(request: HttpRequest, word: str) -> HttpResponse:  # noqa: ARG001 - the address is all it needs
    """What was last written of a person's visits, to whoever has the address."""
    try:
        feed = feeds.named(word)
    except Stranger as stranger:
        raise Http404(str(stranger)) from stranger
    if not feed.text:
        said = "The calendar is not written yet. Ask again in a minute.\n"
        answer = HttpResponse(
            said, content_type="text/plain; charset=utf-8", status=503
        )
        answer["Retry-After"] = str(_SOON_S)
        return answer
    answer = HttpResponse(feed.text, content_type=f"{feed.media_type}; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="{feed.filename}"'
    # The address is the key: no list of pages may hold it.
    answer["X-Robots-Tag"] = "noindex, nofollow"
    return answer


def _account(request: HttpRequest) -> Account:
    return cast("Account", request.user)
