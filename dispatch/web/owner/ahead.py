"""The owner's page beyond the week: six weeks of hours, appointments, what comes again, what is kept for rain."""

from typing import cast

from django.contrib import messages
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import (
    require_GET,
    require_http_methods,
    require_POST,
)

from dispatch.actions import recurring, reserve, room_ahead, slots_ahead
from dispatch.actions.board_words import lasting
from dispatch.records.models import Account, Recurring
from dispatch.web.gate import owner_only
from dispatch.web.owner import draw_ahead, form
from dispatch.web.owner.form import Form, Sent


@require_GET
@owner_only
def overview(request: HttpRequest) -> HttpResponseBase:
    """Show the six weeks ahead."""
    weeks = room_ahead.weeks()
    kept = reserve.of()
    slots = slots_ahead.of([one.starts_on for one in weeks])
    context = {
        "weeks": [
            {
                "one": one,
                "there": _hours(one.there_minutes),
                "planned": _hours(one.planned_minutes),
                "promised": _hours(one.promised_minutes),
                "share": None if one.share is None else round(one.share * 100),
                "full": one.taken_minutes > one.there_minutes,
                "slots": spray.days,
            }
            for one, spray in zip(weeks, slots, strict=True)
        ],
        "spray": slots[0],
        "bars": draw_ahead.drawn(weeks),
        "wide": draw_ahead.WIDE,
        "high": draw_ahead.high(len(weeks)),
        "fixed": [job for one in weeks for job in one.fixed],
        "unpromised": room_ahead.unpromised(),
        "kept": [(one, lasting(one.minutes)) for one in kept],
        "kept_sum": _hours(sum(one.minutes for one in kept)),
        "recurring": Recurring.objects.filter(active=True).select_related(
            "boat", "kind"
        ),
        "here": "ahead",
    }
    return render(request, "owner/ahead.html", context)


def _hours(minutes: float) -> str:
    """Labour in hours: days of labour would be read as days of the week."""
    return f"{minutes / 60:.0f} h"


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def new(request: HttpRequest) -> HttpResponseBase:
    """Have some work come again."""

    def store(sent: Sent) -> tuple[str, str]:
        row = recurring.add(sent.values, by=sent.by)
        return reverse("ahead"), f"{row.kind.name} comes again: {row}."

    made = Form(
        title="Work that comes again",
        here="ahead",
        groups=(("What, and how often", recurring.entered()),),
        stands=recurring.blank(),
        store=store,
        button="Have it come again",
        back=(reverse("ahead"), "Weeks ahead"),
        does="Each time is taken into the book as a job of its own ten days before its first good day. While the last "
        "one is open no other is taken. One that fell out or gave way is marked so, and the next gives way by "
        "your own hand alone.",
        asks_why=False,
        fresh=True,
    )
    return form.answer(request, made)


@require_POST
@owner_only
def stop(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Have it come no more."""
    row = get_object_or_404(Recurring.objects.select_related("boat", "kind"), pk=pk)
    recurring.stop(row, by=cast("Account", request.user))
    messages.success(request, f"{row.kind.name} for {row.boat.name} comes no more.")
    return redirect("ahead")
