"""The owner's plugins: how each stands, its options to set, and a way to turn it on and off."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import cast

from django.contrib import messages
from django.db.models import Q
from django.http import Http404, HttpRequest, HttpResponseBase
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import (
    require_GET,
    require_http_methods,
    require_POST,
)

from dispatch.actions import (
    channel_test,
    keeping,
    plugin_list,
    plugin_setting,
    plugin_words,
)
from dispatch.actions.errors import Refused, Stale
from dispatch.actions.plugin_list import OptionShown, PluginShown
from dispatch.records.models import Account
from dispatch.web import sent_back
from dispatch.web.gate import owner_only
from dispatch.web.owner import meanwhile, settings
from dispatch.web.owner.meanwhile import WAS, Met, Stands
from dispatch.web.templatetags.leeboard import spaced

_WHY_MOST = 500


@dataclass(frozen=True, kw_only=True)
class Group:
    """Plugins that stand alike."""

    title: str
    about: str
    plugins: tuple[PluginShown, ...]


_GROUPS = (
    (
        "Needs a look",
        "Not asked at all, or not now: what only these could tell is unknown.",
        ("broken", "resting", "unset"),
    ),
    ("Turned on", "", ("on",)),
    ("Found, and not turned on", "Nothing asks these.", ("off",)),
    ("Cannot be used", "", ("unfit",)),
)


def _stands(one: PluginShown) -> str:
    """How it stands; what is turned on and cannot be used needs a look as well."""
    return "broken" if one.state == "unfit" and one.enabled else one.state


@require_GET
@owner_only
def overview(request: HttpRequest) -> HttpResponseBase:
    """Show every plugin that was found, by how it stands."""
    known = plugin_list.all_known()
    groups = [
        Group(
            title=title,
            about=about,
            plugins=tuple(one for one in known if _stands(one) in states),
        )
        for title, about, states in _GROUPS
    ]
    context = {
        "groups": [group for group in groups if group.plugins],
        "changes": settings.changes(
            settings.the_outfit(), Q(subject__startswith="plugin ")
        ),
    }
    return render(request, "owner/plugins.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def plugin(request: HttpRequest, name: str) -> HttpResponseBase:
    """Show a plugin with its options, and turn it on with those that were sent."""
    if request.method == "POST":
        return _sent(request, name)
    return _form(request, _shown(name))


def _sent(request: HttpRequest, name: str) -> HttpResponseBase:
    """Turn it on as it was sent; looked at again where somebody else was first while it was being stored."""
    shown = _shown(name)
    sent = {key: str(value) for key, value in request.POST.items()}
    why = sent.get("why", "").strip()[:_WHY_MOST]
    met = _met(shown, sent)
    sent |= {f"v:{option}": one.entered for option, one in met.items()}
    if any(one.both for one in met.values()):
        said = {option: one.said for option, one in met.items() if one.said}
        fault = str(keeping.crossed(spaced(name)))
        return _form(request, _with(shown, sent), fault=fault, why=why, now=said)
    given, forget = plugin_list.entered(shown, sent)
    seen = {one.name: one.value for one in shown.options if one.kind != "secret"}
    by = _owner(request)
    try:
        plugin_setting.turn_on(name, given, by=by, forget=forget, why=why, seen=seen)
    except Stale:
        return _sent(request, name)
    except Refused as refusal:
        return _form(request, _with(shown, sent), fault=str(refusal), why=why)
    messages.success(request, f"{spaced(name)} is on with the options you see.")
    # On the way to a first week its page leads back to the sky's.
    return (
        redirect("begin-sky")
        if "start" in request.GET
        else redirect("plugin", name=name)
    )


@require_POST
@owner_only
def off(request: HttpRequest, name: str) -> HttpResponseBase:
    """Turn a plugin off."""
    try:
        plugin_setting.turn_off(name, by=_owner(request))
    except Refused as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, f"{spaced(name)} is off. Its options are kept.")
    return redirect("plugins")


@require_POST
@owner_only
def test(request: HttpRequest, name: str) -> HttpResponseBase:
    """Have a test sent by a plugin."""
    to = request.POST.get("to", "")
    try:
        channel_test.ask(name, to, by=_owner(request))
    except Refused as refusal:
        page = reverse("plugin", args=[name])
        return sent_back.to(request, page, "test", refusal)
    messages.success(
        request,
        "The test is on its way; what came of it stands under the changes below. Load the page again in a minute.",
    )
    return redirect("plugin", name=name)


def _met(shown: PluginShown, sent: dict[str, str]) -> dict[str, Met]:
    """Whose each option is now, by name; a secret is whoever's sends one."""
    return {
        option.name: meanwhile.met(
            sent.get(f"v:{option.name}", ""),
            sent.get(f"{WAS}{option.name}", _holds(option).shown),
            _holds(option),
        )
        for option in shown.options
        if option.kind != "secret"
    }


def _holds(option: OptionShown) -> Stands:
    """How an option stands, as a browser sends it and in words."""
    if option.kind == "yes-no":
        yes = bool(option.value)
        return Stands(shown="yes" if yes else "", said="yes" if yes else "no")
    return Stands(shown=option.value, said=meanwhile.quoted(option.value))


def _owner(request: HttpRequest) -> Account:
    return cast("Account", request.user)


def _shown(name: str) -> PluginShown:
    shown = plugin_list.named(name)
    if shown is None:
        raise Http404(f"There is no plugin {name}.")
    return shown


def _with(shown: PluginShown, sent: dict[str, str]) -> PluginShown:
    """The plugin with what was entered in its fields; a secret is entered again."""
    fields = tuple(
        replace(option, value=_entered(option, sent)) for option in shown.options
    )
    return replace(shown, options=fields)


def _entered(option: OptionShown, sent: dict[str, str]) -> str:
    return "" if option.kind == "secret" else sent.get(f"v:{option.name}", "")


def _form(
    request: HttpRequest,
    shown: PluginShown,
    *,
    fault: str = "",
    why: str = "",
    now: Mapping[str, str] | None = None,
) -> HttpResponseBase:
    """The page; ``now`` says by option what somebody else set meanwhile."""
    labels = {option.name: option.label for option in shown.options}
    stands = {one.name: _holds(one).shown for one in _shown(shown.name).options}
    wrong = next(iter(plugin_words.named(fault, labels)), "")
    context = {
        "plugin": shown,
        "fields": [
            (one, stands[one.name], (now or {}).get(one.name, ""))
            for one in shown.options
        ],
        "again": [
            option.name
            for option in shown.options
            if request.POST.get(f"{sent_back.SECRET}{option.name}")
        ],
        "refused": fault if now else "",
        "crossed": [(name, labels[name]) for name in now] if now else None,
        "fault": "" if now else plugin_words.plainly(fault, shown.name, labels),
        "wrong": wrong,
        "hears_at": request.build_absolute_uri(reverse("hear", args=[shown.name])),
        "why": why,
        "changes": settings.changes(
            settings.the_outfit(), Q(subject=f"plugin {shown.name}")
        ),
    }
    return render(request, "owner/plugin.html", context, status=422 if fault else 200)
