"""A refusal on its way back to the page its form stands on: the sentence, and all that was typed but what is secret."""

from collections.abc import Mapping
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
_LONGEST = 2000


def to(
    request: HttpRequest, address: str, form: str, refusal: Refused
) -> HttpResponseBase:
    """Lead back to a page; its form of that name shows itself as it was sent, once. Without one the page's head says it."""
    if not form:
        messages.error(request, str(refusal))
        return redirect(address)
    sent = {n: str(v) for n, v in request.POST.items() if n not in _NEVER}
    _keep(request, address, str(refusal), form=form, sent=sent)
    return redirect(address)


def words(request: HttpRequest, address: str, says: str) -> None:
    """Keep the words of a form for a page that is come to later, by way of the sign-in; nothing where there are none."""
    if any(request.POST.get(name) for name in _WORDS):
        _keep(request, address, says, form="", sent={})


def take(request: HttpRequest, form: str = "") -> dict[str, Any]:
    """What was sent back to this page's form of a name, or to any that has not taken it yet; empty where nothing was."""
    if not hasattr(request, "sent_back"):
        request.sent_back = _kept(request)  # type: ignore[attr-defined]
    kept = request.sent_back  # type: ignore[attr-defined]
    if form and kept.get("form") != form:
        return {}
    request.sent_back = {}  # type: ignore[attr-defined]
    return dict(kept)


def _keep(
    request: HttpRequest, address: str, says: str, *, form: str, sent: Mapping[str, str]
) -> None:
    wrote = [request.POST.get(name, "")[:_LONGEST] for name in _WORDS]
    request.session[_KEPT] = {
        "path": urlsplit(address).path,
        "form": form,
        "says": says,
        "sent": sent,
        "wrote": [one for one in wrote if one],
    }


def _kept(request: HttpRequest) -> dict[str, Any]:
    """What waits for this page. Another page drops it, but not one that is shown to nobody: the sign-in lies between."""
    if not hasattr(request, "session"):
        return {}
    kept: dict[str, Any] = request.session.get(_KEPT, {})
    here = kept.get("path") == request.path
    if kept and (here or request.user.is_authenticated):
        del request.session[_KEPT]
    return kept if here else {}
