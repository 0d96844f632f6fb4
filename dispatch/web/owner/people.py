"""The owner's pages of the people: a list, one page each with skills and hours, somebody new, a sign-in."""

from datetime import date
from typing import cast

from django.contrib import messages
from django.db.models import Q
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import (
    require_GET,
    require_http_methods,
    require_POST,
)

from dispatch.actions import clock, fit_tests, people, sign_in
from dispatch.actions.errors import Refused
from dispatch.actions.place_bounds import WEEKDAYS
from dispatch.records.models import Account, Person
from dispatch.web import sent_back
from dispatch.web.gate import owner_only
from dispatch.web.owner import form
from dispatch.web.owner.form import Form, Groups, Sent
from dispatch.web.owner.settings import changes, the_outfit


@require_GET
@owner_only
def overview(request: HttpRequest) -> HttpResponseBase:
    """List everybody with what they can and when they are there."""
    rows = Person.objects.prefetch_related("skills", "duties").order_by(
        "-active", "name"
    )
    today = clock.today()
    told = [(row, _hours(row), _lapsed(row, today)) for row in rows]
    return render(request, "owner/people.html", {"people": told, "here": "crew"})


def _hours(person: Person) -> tuple[str, ...]:
    """The days somebody is on duty, in short: days in a row with the same hours are told once."""
    runs: list[tuple[str, list[int]]] = []
    for duty in sorted(person.duties.all(), key=lambda d: (d.weekday, d.start)):
        hours = f"{duty.start:%H:%M}-{duty.end:%H:%M}"
        if runs and runs[-1][0] == hours and runs[-1][1][-1] + 1 == duty.weekday:
            runs[-1][1].append(duty.weekday)
        else:
            runs.append((hours, [duty.weekday]))
    return tuple(f"{_days(days)} {hours}" for hours, days in runs)


def _days(days: list[int]) -> str:
    first, last = WEEKDAYS[days[0]], WEEKDAYS[days[-1]]
    return f"{first} to {last}" if len(days) > 1 else str(first)


def _lapsed(person: Person, today: date) -> list[str]:
    """Skills whose fit test has run out or was never entered."""
    return [
        skill.name for skill in person.skills.all() if not fit_tests.holds(skill, today)
    ]


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def new(request: HttpRequest) -> HttpResponseBase:
    """Add somebody."""

    def store(sent: Sent) -> tuple[str, str]:
        row = people.add(sent.values, by=sent.by)
        return reverse("person", args=[row.key]), f"{row.name} works here now."

    made = Form(
        title="Somebody new",
        here="crew",
        groups=_groups(),
        stands=people.blank(),
        check=people.faults,
        store=store,
        button="Add them",
        back=(reverse("people"), "All people"),
        asks_why=False,
        fresh=True,
    )
    return form.answer(request, made)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def one(request: HttpRequest, key: str) -> HttpResponseBase:
    """Show a person, and set what was changed."""
    row = get_object_or_404(Person, key=key)
    hours = row.duties.exists()
    first = "start" in request.GET and not hours

    def store(sent: Sent) -> tuple[str, str]:
        told = people.change(row, sent.values, by=sent.by, why=sent.why, seen=sent.seen)
        return reverse("person", args=[key]), form.changed_words(told)

    made = Form(
        title=row.name,
        here="crew",
        lead=_lead(hours=hours, first=first),
        groups=_groups(),
        stands=people.values(row),
        offers=people.usual_hours() if first else {},
        check=people.faults,
        store=store,
        button="Save the person",
        back=(reverse("people"), "All people"),
        does="The next week that is built goes by it. Posted visits are not moved. "
        "A fit test that has run out means no hood work: the test itself is a licensed tester's.",
    )
    more = {
        "person": row,
        "zone": clock.zone(),
        "account": Account.objects.filter(person=row).first(),
        "away": row.days_off.filter(on__gte=clock.today()),
        "changes": changes(the_outfit(), Q(subject=f"person {row.key}")),
    }
    return form.answer(request, made, template="owner/person.html", more=more)


def _lead(*, hours: bool, first: bool) -> str:
    if first:
        return "The hours at the foot are offered, not stored yet: change them and save. Without hours no week plans you."
    if not hours:
        return (
            "No hours on duty are entered, so no week plans them. The days stand below."
        )
    return ""


@require_POST
@owner_only
def give_sign_in(request: HttpRequest, key: str) -> HttpResponseBase:
    """Give a person a sign-in."""
    row = get_object_or_404(Person, key=key)
    by = cast("Account", request.user)
    try:
        account = sign_in.give(row, request.POST.get("password", ""), by=by)
    except Refused as refusal:
        page = reverse("person", args=[key])
        return sent_back.to(request, page, "sign-in", refusal)
    told = f"{row.name} signs in as {account.username} with the password you gave."
    messages.success(request, told)
    return redirect("person", key=key)


def _groups() -> Groups:
    return (
        ("Who", people.who()),
        ("What they can", people.able()),
        ("When they are on duty", people.hours()),
    )
