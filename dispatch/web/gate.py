"""Who may open a page: a stranger is asked to sign in, the wrong person is told so."""

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.contrib.auth.views import redirect_to_login
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.views.decorators.cache import never_cache

from dispatch.actions import access
from dispatch.actions.errors import Stranger

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


def _guarded(view: View, check: Callable[[object], object]) -> View:
    @wraps(view)
    def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:  # noqa: ANN401 - whatever the address holds
        if not request.user.is_authenticated:
            # A script cannot be led to sign in: it is told, and keeps what it sent.
            if request.headers.get("X-Requested-With") == "fetch":
                return HttpResponse("Sign in first. Nothing was taken.", status=401)
            return redirect_to_login(request.get_full_path())
        try:
            check(request.user)
        except Stranger as stranger:
            raise PermissionDenied(str(stranger)) from stranger
        return view(request, *args, **kwargs)

    return never_cache(guarded)
