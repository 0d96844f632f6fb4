"""Who may open a page: a stranger is asked to sign in, the wrong person is told so."""

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.contrib.auth.views import redirect_to_login
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect
from django.views.csrf import csrf_failure
from django.views.decorators.cache import never_cache

from dispatch.actions import access
from dispatch.actions.errors import Stranger
from dispatch.web import sent_back

_SIGNED_OUT = "You were signed out, so nothing was stored."
_STALE = (
    "You signed in again after this page was loaded, so nothing of the form was stored."
)
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


def stale(request: HttpRequest, reason: str = "") -> HttpResponseBase:
    """A form of a page that was loaded before the last sign-in: it comes back filled in, to be looked over and sent."""
    if not sent_back.own(request):
        return csrf_failure(request, reason=reason)
    if request.headers.get("X-Requested-With") == "fetch":
        return _sign_in_first()
    return redirect(sent_back.unread(request, _STALE))


def _sign_in_first() -> HttpResponse:
    """A script cannot be led to sign in: it is told, and keeps what it sent."""
    return HttpResponse("Sign in first. Nothing was taken.", status=401)


def _page(request: HttpRequest) -> str:
    """The page to come back to once signed in: of a form the one it stood on, where it is filled in as it was sent."""
    if request.method != "POST":
        return request.get_full_path()
    return sent_back.unread(request, _SIGNED_OUT)


def _guarded(view: View, check: Callable[[object], object]) -> View:
    @wraps(view)
    def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:  # noqa: ANN401 - whatever the address holds
        if not request.user.is_authenticated:
            if request.headers.get("X-Requested-With") == "fetch":
                return _sign_in_first()
            return redirect_to_login(_page(request))
        try:
            check(request.user)
        except Stranger as stranger:
            # What was written before the sign-in was somebody else's.
            sent_back.take(request)
            raise PermissionDenied(str(stranger)) from stranger
        return view(request, *args, **kwargs)

    return never_cache(guarded)
