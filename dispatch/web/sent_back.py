"""A refusal on its way back to the page its form stands on: the sentence, and all that was typed but what is secret."""

from typing import Any
from urllib.parse import urlsplit

from django.contrib import messages
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import redirect

from dispatch.actions.errors import Refused

_KEPT = "sent-back"
_NEVER = {"csrfmiddlewaretoken", "password"}
# What somebody thought about: shown even where its form does not stand on the page any more.
_WORDS = ("why", "reason", "words")


def to(
    request: HttpRequest, address: str, form: str, refusal: Refused
) -> HttpResponseBase:
    """Lead back to a page; its form of that name shows itself as it was sent, once. Without one the page's head says it."""
    if not form:
        messages.error(request, str(refusal))
        return redirect(address)
    request.session[_KEPT] = {
        "path": urlsplit(address).path,
        "form": form,
        "says": str(refusal),
        "sent": {n: str(v) for n, v in request.POST.items() if n not in _NEVER},
        "wrote": [request.POST[name] for name in _WORDS if request.POST.get(name)],
    }
    return redirect(address)


def take(request: HttpRequest, form: str = "") -> dict[str, Any]:
    """What was sent back to this page's form of a name, or to any that has not taken it yet; empty where nothing was."""
    if not hasattr(request, "sent_back"):
        kept = request.session.pop(_KEPT, {}) if hasattr(request, "session") else {}
        request.sent_back = kept if kept.get("path") == request.path else {}  # type: ignore[attr-defined]
    kept = request.sent_back  # type: ignore[attr-defined]
    if form and kept.get("form") != form:
        return {}
    request.sent_back = {}  # type: ignore[attr-defined]
    return dict(kept)
