"""The first run: an empty house is made somebody's, then the steps to a first week, each a short page."""

from collections.abc import Callable

from django.contrib.auth import login
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import (
    require_GET,
    require_http_methods,
    require_POST,
)

from dispatch.actions import entries, first_run
from dispatch.actions.errors import Refused
from dispatch.records.models import Account
from dispatch.web.gate import owner_only
from dispatch.web.owner.form import Field

_BACKEND = "django.contrib.auth.backends.ModelBackend"
_UNSAME = "The two passwords differ. Write the same twice."


@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def begin(request: HttpRequest) -> HttpResponseBase:
    """Ask who owns this house, and the word its runner knows; nobody is asked once it has its owner."""
    if not first_run.empty():
        return redirect("steps")
    if request.method != "POST":
        return _shown(request, _offered(request), {})
    sent = {name: str(value) for name, value in request.POST.items()}
    values, faults = entries.read(first_run.entered(), sent)
    if sent.get("password", "") != sent.get("again", ""):
        faults["password"] = _UNSAME
    if faults:
        return _shown(request, sent, faults)
    password, word = sent.get("password", ""), sent.get("word", "")
    return _made(request, lambda: first_run.begin(values, password, word), sent)


@never_cache
@require_POST
def sample(request: HttpRequest) -> HttpResponseBase:
    """Fill the house with sample data, and sign its owner in."""
    password, word = request.POST.get("password", ""), request.POST.get("word", "")
    sent = {"units": "us", "word": word}
    if password != request.POST.get("again", ""):
        return _shown(request, sent, {"sample": _UNSAME})
    return _made(request, lambda: first_run.sample(password, word), sent)


@require_GET
@owner_only
def steps(request: HttpRequest) -> HttpResponseBase:
    """Show what a first week needs and what of it is there."""
    found = first_run.steps()
    following = next((step for step in found if not step.done), None)
    context = {"steps": found, "next": following, "here": "settings"}
    return render(request, "owner/first_steps.html", context)


def _offered(request: HttpRequest) -> dict[str, str]:
    """What the page begins with: the word too, where the address has it."""
    return {"units": "us", "word": request.GET.get("word", "")}


def _made(
    request: HttpRequest, make: Callable[[], Account], sent: dict[str, str]
) -> HttpResponseBase:
    """Make the house somebody's and sign them in; where that is refused nothing is stored."""
    try:
        account = make()
    except Refused as refusal:
        return _shown(request, sent, {"": str(refusal)})
    login(request, account, backend=_BACKEND)
    return redirect("steps")


def _shown(
    request: HttpRequest, sent: dict[str, str], faults: dict[str, str]
) -> HttpResponseBase:
    rows = [
        Field(
            entry=entry,
            entered=sent.get(entry.name, ""),
            fault=faults.get(entry.name, ""),
        )
        for entry in first_run.entered()
    ]
    context = {
        "groups": [("Your outfit and you", rows)],
        "word": sent.get("word", ""),
        "refused": faults.get("", "") or faults.get("sample", ""),
        "password_fault": faults.get("password", ""),
    }
    status = 422 if faults else 200
    return render(request, "owner/first_run.html", context, status=status)
