"""Who may open a page: a stranger is asked to sign in, the wrong person is told so."""

from collections.abc import Callable
from functools import wraps
from typing import Any
from urllib.parse import urlsplit

from django.contrib.auth.views import redirect_to_login
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.cache import never_cache

from dispatch.actions import access
from dispatch.actions.errors import Stranger
from dispatch.web import sent_back

_SIGNED_OUT = "You were signed out, so nothing was stored. Send it again."
View = Callable[..., HttpResponseBase]


def owner_only(view: View) -> View:
    """The page, for the owner alone."""
    return _guarded(view, access.owner)


def crew_only(view: View) -> View:
    """The page, for anybody who works here."""
    return _guarded(view, access.crew_member)


def signed_in(view: View) -> View:
    """The page, for any account."""
    return _guarded(view, lambda account: account)


def _page(request: HttpRequest) -> str:
    """The page to come back to once signed in: of a form the one it stood on, where the words written in it are shown."""
    page = request.get_full_path()
    if request.method != "POST":
        return page
    came = request.headers.get("Referer", "")
    if url_has_allowed_host_and_scheme(came, {request.get_host()}):
        page = urlsplit(came)._replace(scheme="", netloc="").geturl()
    sent_back.words(request, page, _SIGNED_OUT)
    return page


def _guarded(view: View, check: Callable[[object], object]) -> View:
    @wraps(view)
    def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:  # noqa: ANN401 - whatever the address holds
        if not request.user.is_authenticated:
            # A script cannot be led to sign in: it is told, and keeps what it sent.
            if request.headers.get("X-Requested-With") == "fetch":
                return HttpResponse("Sign in first. Nothing was taken.", status=401)
            return redirect_to_login(_page(request))
        try:
            check(request.user)
        except Stranger as stranger:
            raise PermissionDenied(str(stranger)) from stranger
        return view(request, *args, **kwargs)

    return never_cache(guarded)
