"""In and out: the sign-in page, and the page each person starts at."""

from typing import Any

from django.contrib.auth.views import LoginView
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect

from dispatch.actions import access, first_run, first_steps
from dispatch.records.models import Outfit
from dispatch.web.gate import crew_only, signed_in

OWNER_START, OWNER_BEGINS, CREW_START = "/week/", "/start/steps/", "/route/"


class SignIn(LoginView):
    """Ask for a name and a password; who is signed in already goes on."""

    template_name = "sign_in.html"
    redirect_authenticated_user = True

    def get(self, request: HttpRequest, *_: object, **__: object) -> HttpResponse:
        """Ask, or go on to the first run where nobody could sign in yet."""
        if first_run.empty():
            return redirect("begin")
        return super().get(request)

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:  # noqa: ANN401 - Django's own
        outfit = Outfit.objects.first()
        return super().get_context_data(**kwargs) | {"outfit": outfit}


@signed_in
def home(request: HttpRequest) -> HttpResponseBase:
    """Send everybody to the page they start at."""
    if access.is_owner(request.user):
        return redirect(OWNER_START if first_steps.begun() else OWNER_BEGINS)
    return _crew_home(request)


@crew_only
def _crew_home(_: HttpRequest) -> HttpResponseBase:
    return redirect(CREW_START)
