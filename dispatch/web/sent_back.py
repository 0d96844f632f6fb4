"""A form on its way back to the page it stands on: the sentence why, and all that was typed but what is secret."""

from typing import Any
from urllib.parse import urlsplit

from django.contrib import messages
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import redirect
from django.utils.http import url_has_allowed_host_and_scheme

from dispatch.actions.errors import Refused

_KEPT = "sent-back"
_NEVER = {"csrfmiddlewaretoken", "password", "again"}
# A plugin's secret is sent under such a name.
SECRET = "secret:"  # noqa: S105 - how a field's name begins
# What somebody thought about: shown even where its form does not stand on the page any more.
_WORDS = ("why", "reason", "words")
_LONGEST = 2000
# A session holds no more of a form than this; a list that is brought in is a file, and is chosen again.
_MOST = 60_000


def to(
    request: HttpRequest, address: str, form: str, refusal: Refused
) -> HttpResponseBase:
    """Lead back to a page; its form of that name shows itself as it was sent, once. Without one the page's head says it."""
    if not form:
        messages.error(request, str(refusal))
        return redirect(address)
    _keep(request, address, str(refusal), form=form, sent=dict(_fields(request)))
    return redirect(address)


def unread(request: HttpRequest, says: str) -> str:
    """Keep a form that nobody has read for the page it was written on, which fills it in again; that page's address."""
    page = _written_on(request)
    fields = _fields(request)
    long = sum(len(name) + len(value) for name, value in fields) > _MOST
    again = [word for word, lost in _not_kept(request) if lost]
    _keep(
        request,
        page,
        f"{says} Choose or write again: {', '.join(again)}." if again else says,
        to=request.get_full_path(),
        fields=[] if long else fields,
    )
    return page


def own(request: HttpRequest) -> bool:
    """Whether a form was sent from a page of ours."""
    came = request.headers.get("Referer", "")
    return url_has_allowed_host_and_scheme(came, {request.get_host()})


def take(request: HttpRequest, form: str = "") -> dict[str, Any]:
    """What was sent back to this page's form of a name, or to any that has not taken it yet; empty where nothing was."""
    if not hasattr(request, "sent_back"):
        request.sent_back = _kept(request)  # type: ignore[attr-defined]
    kept = request.sent_back  # type: ignore[attr-defined]
    if form and kept.get("form") != form:
        return {}
    request.sent_back = {}  # type: ignore[attr-defined]
    return dict(kept)


def _fields(request: HttpRequest) -> list[tuple[str, str]]:
    """Every field that was sent, but what is secret."""
    return [
        (name, value)
        for name, values in request.POST.lists()
        if name not in _NEVER and not name.startswith(SECRET)
        for value in map(str, values)
    ]


def _not_kept(request: HttpRequest) -> list[tuple[str, bool]]:
    """What does not come back, and whether it was there."""
    sent = request.POST
    secret = any(sent[name] for name in sent if name.startswith(SECRET))
    return [
        ("the files", bool(request.FILES)),
        ("the password", bool(sent.get("password"))),
        ("what is kept secret", secret),
    ]


def _written_on(request: HttpRequest) -> str:
    """The page a form was written on, where it is one of ours; else its own address."""
    if not own(request):
        return request.get_full_path()
    page = urlsplit(request.headers["Referer"])
    return page._replace(scheme="", netloc="").geturl()


def _keep(request: HttpRequest, address: str, says: str, **kept: object) -> None:
    wrote = [request.POST.get(name, "")[:_LONGEST] for name in _WORDS]
    request.session[_KEPT] = {
        "path": urlsplit(address).path,
        "says": says,
        "wrote": [one for one in wrote if one],
        **kept,
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
