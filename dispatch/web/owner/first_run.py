"""The first run: an empty house is made somebody's, then the steps to a first week, each a short page."""

from collections.abc import Callable
from typing import cast

from django.contrib import messages
from django.contrib.auth import login
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import (
    require_GET,
    require_http_methods,
    require_POST,
)

from dispatch.actions import entries, first_run, first_sky, first_steps, plugin_words
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Place
from dispatch.web.gate import owner_only
from dispatch.web.owner.form import Field

_BACKEND = "django.contrib.auth.backends.ModelBackend"
_SIGN_IN = (
    "You are signed in as {name}. To come back later, sign in as {name} with {password}: "
    "copy it now, it is not shown again."
)
_AGAIN = "Write it again, twice: a password is not sent back."
_UNSAME = "The two passwords differ. Write the same twice."


@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def begin(request: HttpRequest) -> HttpResponseBase:
    """Ask who owns this house, and the word its runner knows; nobody is asked once it has its owner."""
    if not first_run.empty():
        return redirect("steps")
    if request.method != "POST":
        offered = _offered(request)
        wrong = offered["word"] and not first_run.is_word(offered["word"])
        return _shown(request, offered, {"": first_run.UNKNOWN} if wrong else {})
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
    try:
        account, password = first_run.sample(request.POST.get("word", ""))
    except Refused as refusal:
        return _shown(request, _offered(request), {"": str(refusal)})
    login(request, account, backend=_BACKEND)
    messages.success(request, _SIGN_IN.format(name=account.username, password=password))
    return redirect("steps")


@require_GET
@owner_only
def steps(request: HttpRequest) -> HttpResponseBase:
    """Show what a first week needs and what of it is there."""
    found = first_steps.steps(cast("Account", request.user))
    following, after = (*first_steps.lacking(found), None, None)[:2]
    context = {"steps": found, "next": following, "after": after, "here": "settings"}
    return render(request, "owner/first_steps.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def sky(request: HttpRequest) -> HttpResponseBase:
    """Show who could tell the sky of a first week, and turn the limits on in one go."""
    if request.method == "POST":
        names = first_sky.turn_on_limits(by=cast("Account", request.user))
        called = ", ".join(plugin_words.spaced(name) for name in names)
        messages.success(request, f"Turned on: {called or 'nothing new'}.")
        return redirect("begin-sky")
    limits = first_sky.answering("vetoes")
    context = {
        "limits": limits,
        "lacking": any(one.ready and not one.on for one in limits),
        "forecasts": first_sky.answering("forecast"),
        "places": Place.objects.order_by("-is_base", "name"),
        "here": "plugins",
    }
    return render(request, "owner/first_sky.html", context)


def _offered(request: HttpRequest) -> dict[str, str]:
    """What the page begins with: the word too, where it was said."""
    said = request.GET.get("word", "") or request.POST.get("word", "")
    return {"units": "us", "word": said}


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
    again = _AGAIN if faults and sent.get("password") else ""
    context = {
        "groups": [("Your outfit and you", rows)],
        "word": sent.get("word", ""),
        "known": first_run.is_word(sent.get("word", "")),
        "refused": faults.get("", ""),
        "password_fault": faults.get("password", again),
    }
    status = 422 if faults else 200
    return render(request, "owner/first_run.html", context, status=status)
