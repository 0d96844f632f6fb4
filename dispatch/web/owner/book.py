"""The book: jobs to search and filter, and each job's terms and state to change."""

from typing import cast

from django.contrib import messages
from django.core.paginator import Paginator
from django.db.models import Q, QuerySet
from django.db.models.functions import Length
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import (
    require_GET,
    require_http_methods,
    require_POST,
)

from dispatch.actions import appointments, job_states, taken_off, term_entries, terms
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Job
from dispatch.web import sent_back
from dispatch.web.gate import owner_only
from dispatch.web.owner import form
from dispatch.web.owner.form import Form, Sent
from dispatch.web.owner.settings import changes, the_outfit

_A_PAGE = 50
_OPEN = "open"
STATES = ((_OPEN, "All that are open"), ("", "All"), *Job.State.choices)
_NOW_PLAN = "Plan the rest of its week anew."
_NOT_OPEN = (Job.State.HANDED_BACK, Job.State.CALLED_OFF)


def found(words: str, state: str) -> QuerySet[Job]:
    """Jobs in which every one of some words stands, of a state, of all that are open, or of all."""
    rows = Job.objects.select_related("boat__customer", "boat__place", "kind")
    for word in words.split()[:8]:
        rows = rows.filter(
            Q(key__iexact=word)
            | Q(boat__name__icontains=word)
            | Q(boat__customer__name__icontains=word)
            | Q(boat__place__name__icontains=word)
            | Q(boat__registration__icontains=word)
            | Q(kind__name__icontains=word)
            | Q(note__icontains=word)
        )
    if state == _OPEN:
        rows = rows.exclude(state__in=_NOT_OPEN)
    elif state:
        rows = rows.filter(state=state)
    # The newest first; of those taken at once J2 stands before J10.
    return rows.order_by("-taken_at", Length("key"), "key")


@require_GET
@owner_only
def jobs(request: HttpRequest) -> HttpResponseBase:
    """List the jobs of the book."""
    words, state = request.GET.get("q", "")[:80], request.GET.get("state", _OPEN)
    rows = found(words, state)
    page = Paginator(rows, _A_PAGE).get_page(request.GET.get("page"))
    return render(
        request,
        "owner/book.html",
        {
            "jobs": page,
            "count": rows.count(),
            "empty": not Job.objects.exists(),
            "q": words,
            "state": state,
            "states": STATES,
        },
    )


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def job(request: HttpRequest, key: str) -> HttpResponseBase:
    """Show a job's terms and its state, and set those that were changed."""
    row = get_object_or_404(
        Job.objects.select_related("boat__place", "boat__customer", "kind", "sheet"),
        key=key,
    )
    outfit, wrong = the_outfit(), appointments.told(row)
    more = {
        "job": row,
        "held": appointments.may_move(row)
        and (wrong is not None or not terms.untouched(row)),
        "told_wrong": wrong,
        "steps": [(to, job_states.WORDS[to]) for to in job_states.STEPS[row.state]],
        "changes": changes(outfit, Q(subject=f"job {row.key}")),
    }
    return form.answer(request, _form(row), template="owner/job.html", more=more)


@require_POST
@owner_only
def appointment(request: HttpRequest, key: str) -> HttpResponseBase:
    """Hold a posted job to another minute."""
    rows = Job.objects.select_related("boat__place", "boat__customer")
    row = get_object_or_404(rows, key=key)
    sent, by = request.POST, cast("Account", request.user)
    why = sent.get("why", "").strip()[: form.WHY_MOST]
    try:
        to = appointments.read(row, sent.get("to", ""))
        said = appointments.move(row, to, by=by, why=why)
    except Refused as refusal:
        return sent_back.to(request, _terms(row), "appointment", refusal)
    messages.success(request, f"{said} {_NOW_PLAN} {appointments.then(row)}")
    return redirect(_terms(row))


@require_POST
@owner_only
def move(request: HttpRequest, key: str) -> HttpResponseBase:
    """Move a job to another state."""
    row = get_object_or_404(Job, key=key)
    sent, by = request.POST, cast("Account", request.user)
    try:
        off = job_states.move(
            row,
            sent.get("to", ""),
            by=by,
            why=sent.get("why", "").strip()[: form.WHY_MOST],
            seen=sent.get("seen", ""),
        )
    except Refused as refusal:
        return sent_back.to(request, _terms(row), "move", refusal)
    row.refresh_from_db()
    messages.success(
        request,
        f"The job is {row.get_state_display().lower()} now.{taken_off.counted(off)}",
    )
    return redirect(_terms(row))


def _terms(row: Job) -> str:
    return reverse("job-terms", args=[row.key])


def _form(row: Job) -> Form:
    zone = row.boat.place.time_zone

    def save(sent: Sent) -> tuple[str, str]:
        told = terms.change(row, sent.values, by=sent.by, why=sent.why, seen=sent.seen)
        return reverse("job-terms", args=[row.key]), form.changed_words(told)

    return Form(
        title=f"{row.boat.name}: {row.kind.name.lower()}",
        here="book",
        groups=(
            ("What there is to do", term_entries.work()),
            ("What was promised", term_entries.promised(zone)),
            ("Money and notes", term_entries.money()),
        ),
        stands=terms.values(row),
        store=save,
        button="Save the job",
        back=(reverse("jobs"), "All jobs"),
        does="While none of it is posted or begun, its visits are made anew from the catalogue. "
        "After that its open visits are reckoned again. Posted visits are not moved: build the week again.",
    )
