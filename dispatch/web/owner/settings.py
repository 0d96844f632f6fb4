"""The owner's settings: every rate and limit to read, and to change by subject."""

from collections.abc import Mapping
from typing import cast
from zoneinfo import ZoneInfo

from django.contrib import messages
from django.db.models import Q
from django.http import Http404, HttpRequest, HttpResponseBase
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods

from dispatch.actions import keeping, setting_subjects, settings
from dispatch.actions import outfit as outfit_verbs
from dispatch.actions.board_words import dated
from dispatch.actions.errors import Refused, Stale
from dispatch.actions.setting_subjects import SUBJECTS, Subject
from dispatch.records.models import Account, DueWork, HistoryEntry, Outfit
from dispatch.web.gate import owner_only
from dispatch.web.owner import form, settings_groups, settings_lines, settings_table
from dispatch.web.owner.form import Form, Sent
from dispatch.web.owner.settings_lines import Entered

_LATEST = 8
_WHY_MOST = 500
_DOES = (
    "Pages show the new units and clock at once, and the next invoice what stands here. "
    "Nothing planned or posted moves; invoices already issued keep what they say."
)
_AGAIN = ("judge-book", "judge-stage", "refigure-book", "refigure-job")


def the_outfit() -> Outfit:
    """The outfit, or no page."""
    outfit = Outfit.objects.first()
    if outfit is None:
        raise Http404("There is no outfit yet.")
    return outfit


def changes(outfit: Outfit, subjects: Q) -> list[tuple[str, HistoryEntry]]:
    """The latest changes of some subjects, each with its moment on the outfit's clock."""
    zone = ZoneInfo(outfit.time_zone)
    rows = HistoryEntry.objects.filter(subjects)[:_LATEST]
    return [(dated(row.at, zone), row) for row in rows]


def unfinished() -> Mapping[str, object]:
    """How much the worker has still to go through, and which jobs could not be reckoned again."""
    due = DueWork.objects.filter(verb__in=_AGAIN)
    latest = {row.key: row for row in due.filter(verb="refigure-job").order_by("id")}
    return {
        "waiting": due.filter(done_at=None).count(),
        "kept": [row for row in latest.values() if row.fault],
    }


@require_GET
@owner_only
def overview(request: HttpRequest) -> HttpResponseBase:
    """Show every rate, limit and particular as it stands."""
    outfit = the_outfit()
    cards = [
        settings_groups.Card(subject=s, lines=settings_lines.lines(s, outfit.units))
        for s in SUBJECTS
    ]
    families = [card for card in cards if card.subject.family]
    return render(
        request,
        "owner/settings.html",
        {
            "outfit": outfit,
            "groups": settings_groups.of(cards),
            "table": settings_table.of(families),
            "sky_says": settings_groups.of_the_sky(families),
            "altered": [(c.subject, ln) for c in cards for ln in c.lines if ln.changed],
            "count": sum(len(card.lines) for card in cards),
            "changes": changes(
                outfit,
                Q(subject__startswith="setting ") | Q(subject__startswith="outfit"),
            ),
            **unfinished(),
        },
    )


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def subject(request: HttpRequest, key: str) -> HttpResponseBase:
    """Show a subject's settings, and set those that were changed."""
    if key not in setting_subjects.BY_KEY:
        raise Http404(f"There are no settings called {key}.")
    chosen, outfit = setting_subjects.BY_KEY[key], the_outfit()
    if request.method == "POST":
        return _sent(request, chosen, outfit)
    lines = settings_lines.lines(chosen, outfit.units)
    return _form(request, chosen, outfit, Entered(lines=lines, values={}))


def _sent(request: HttpRequest, chosen: Subject, outfit: Outfit) -> HttpResponseBase:
    """Set what was sent; looked at again where somebody else was first while it was being stored."""
    sent, why = request.POST.dict(), request.POST.get("why", "").strip()
    lines = settings_lines.lines(chosen, outfit.units)
    entered = settings_lines.entered(lines, cast("Mapping[str, str]", sent))
    if entered.faulty or entered.crossed or len(why) > _WHY_MOST:
        return _form(request, chosen, outfit, entered, why)
    try:
        _set(request, entered, why)
    except Stale:
        return _sent(request, chosen, outfit)
    except Refused as refusal:
        return _form(request, chosen, outfit, entered, why, str(refusal))
    return redirect("settings-subject", key=chosen.key)


def _set(request: HttpRequest, entered: Entered, why: str) -> None:
    values = entered.values
    if not values:
        messages.info(request, "Nothing was different, so nothing was changed.")
        return
    seen = {line.name: line.value for line in entered.lines if line.name in values}
    by = cast("Account", request.user)
    settings.change_all(values, by=by, why=why, seen=seen)
    numbers = "1 number" if len(values) == 1 else f"{len(values)} numbers"
    messages.success(request, f"{numbers} set. {setting_subjects.does(values)}")


def _form(
    request: HttpRequest,
    chosen: Subject,
    outfit: Outfit,
    entered: Entered,
    why: str = "",
    refused: str = "",
) -> HttpResponseBase:
    lines, crossed = entered.lines, entered.crossed
    names = [f"setting {line.name}" for line in lines]
    faulty = [line for line in lines if line.fault]
    too_long = len(why) > _WHY_MOST
    if crossed and not faulty:
        refused = str(keeping.crossed(chosen.name))
    context = {
        "subject": chosen,
        "parts": settings_groups.parts(lines),
        "does": setting_subjects.does(line.name for line in lines),
        "faulty": faulty,
        "refused": refused,
        "crossed": [(line.name, line.label) for line in crossed] if crossed else None,
        "why": why,
        "why_fault": f"Keep the reason under {_WHY_MOST} characters."
        if too_long
        else "",
        "subjects": SUBJECTS,
        "changes": changes(outfit, Q(subject__in=names)),
        **unfinished(),
    }
    status = 422 if faulty or too_long or refused else 200
    return render(request, "owner/settings_subject.html", context, status=status)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def particulars(request: HttpRequest) -> HttpResponseBase:
    """Show the outfit's own particulars, and set what was changed."""
    outfit = the_outfit()

    def save(sent: Sent) -> tuple[str, str]:
        told = outfit_verbs.change(
            sent.values, by=sent.by, why=sent.why, seen=sent.seen
        )
        return reverse("settings-outfit"), form.changed_words(told)

    made = Form(
        title="The outfit",
        here="settings",
        groups=(
            ("Name, clock and units", outfit_verbs.named()),
            ("On invoices", outfit_verbs.on_invoices()),
            ("On hand-back", outfit_verbs.on_hand_back()),
        ),
        stands=outfit_verbs.values(outfit),
        store=save,
        button="Save the outfit",
        back=(reverse("settings"), "All settings"),
        does=_DOES,
    )
    more = {"changes": changes(outfit, Q(subject__startswith="outfit"))}
    return form.answer(request, made, more=more)
