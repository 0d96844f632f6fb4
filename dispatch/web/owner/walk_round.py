"""The walk-round: customer, boat, place and job on one page for a phone, reckoned before anything is stored."""

from collections.abc import Mapping
from datetime import date, datetime, time
from typing import Any, cast
from zoneinfo import ZoneInfo

from django.contrib import messages
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from dispatch.actions import boats, entries, photos, pictures, walk_round
from dispatch.actions.board_words import lasting
from dispatch.actions.errors import Refused
from dispatch.actions.reckoned import Reckoned
from dispatch.actions.walk_round import Walked
from dispatch.records.models import Account, Boat, Customer, Job, Place
from dispatch.web.gate import owner_only
from dispatch.web.owner import form, walk_fields, where
from dispatch.web.owner.form import Back, Form

_FROM, _BY = time(8), time(18)
_OF_NEAR = {
    "bearing_deg": "give its bearing from the boat.",
    "distance_m": "give how far off it stands.",
}
_NO_ROOM = "There is no room within four months, so no days can be promised. Take the tick out."
Values = dict[str, Any]


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def walk(request: HttpRequest) -> HttpResponseBase:
    """Ask what was found, reckon it, and take it into the book."""
    made = _form()
    if request.method != "POST":
        boat = {"boat": request.GET.get("boat", "")}
        return _shown(request, made, boat if boat["boat"] else None, {}, None)
    sent = where.apart(cast("Mapping[str, str]", request.POST.dict()))
    values, faults = entries.read(walk_fields.asked(sent), sent)
    faults = faults or _misfits(values)
    if faults:
        return _shown(request, made, sent, faults, None)
    try:
        return _taken(request, made, sent, values)
    except Refused as refusal:
        return _shown(request, made, sent, {"": str(refusal)}, None)


def _misfits(values: Values) -> dict[str, str]:
    """What of her heading does not go with her place, and what a neighbour lacks, by the field's name."""
    boat = Boat.objects.filter(key=values.get("boat") or "").first()
    place = boat.place.key if boat else values.get("place")
    lies = walk_fields.parts(values)["lies"] | {"place": place}
    found = {f"lies.{name}": said for name, said in boats.faults(lies).items()}
    near = walk_fields.parts(values)["near"]
    if near.get("what"):
        lack = {n: said for n, said in _OF_NEAR.items() if near[n] is None}
        found |= {f"near.{n}": f"{near['what']}: {said}" for n, said in lack.items()}
    return found


def _taken(
    request: HttpRequest, made: Form, sent: Mapping[str, str], values: Values
) -> HttpResponseBase:
    walked, by = _walked(values), cast("Account", request.user)
    found = walk_round.reckon(walked, by=by)
    state = sent.get("do", "")
    if state not in (Job.State.ASKED, Job.State.AGREED):
        return _shown(request, made, sent, {}, found)
    if values["promise_days"]:
        if found.days is None:
            return _shown(request, made, sent, {"promise_days": _NO_ROOM}, None)
        walked = _promised(walked, found.days)
    seen = [
        one.read(pictures.MOST_BYTES + 1)
        for one in request.FILES.getlist("photos")[: photos.MOST_A_BOAT]
    ]
    job = walk_round.take(walked, state=state, by=by, pictures=seen)
    messages.success(
        request, f"{job.boat.name} is in the book as {job.key.upper()}, {state}."
    )
    if "start" in request.GET:
        return redirect("steps")
    return redirect("job-terms", key=job.key)


def _walked(values: Values) -> Walked:
    """What was entered, as rows that are known and values of new ones."""
    part = walk_fields.parts(values)
    boat = Boat.objects.filter(key=values.get("boat") or "").first()
    customer = Customer.objects.filter(pk=values.get("customer") or 0).first()
    place = Place.objects.filter(key=values.get("place") or "").first()
    lies = part["lies"] if part["lies"].get("heading_deg") is not None else {}
    if boat is not None:
        return Walked(
            customer=boat.customer,
            place=boat.place,
            boat=boat,
            job=part["job"],
            near=_near(part["near"]),
            lies=lies or None,
        )
    return Walked(
        customer=customer or part["customer"],
        place=place or part["place"],
        boat=part["boat"] | lies,
        job=part["job"],
        near=_near(part["near"]),
    )


def _near(near: Values) -> Values | None:
    return near if near.get("what") else None


def _promised(walked: Walked, given: tuple[date, date]) -> Walked:
    """The same with the days that were reckoned promised."""
    place = walked.place
    name = place.time_zone if isinstance(place, Place) else walk_fields.zone()
    zone, (first, last) = ZoneInfo(name), given
    days = {
        "promise": Job.Promise.RANGE,
        "promised_from": datetime.combine(first, _FROM, tzinfo=zone),
        "promised_by": datetime.combine(last, _BY, tzinfo=zone),
    }
    return Walked(
        customer=walked.customer,
        place=walked.place,
        boat=walked.boat,
        job={**walked.job, **days},
        near=walked.near,
        lies=walked.lies,
    )


def _form() -> Form:
    return Form(
        title="Walk-round",
        here="book",
        groups=walk_fields.groups(),
        stands=walk_fields.blank(),
        store=lambda _: ("", ""),
        button="",
        fresh=True,
    )


def _shown(
    request: HttpRequest,
    made: Form,
    sent: Mapping[str, str] | None,
    faults: Mapping[str, str],
    found: Reckoned | None,
) -> HttpResponseBase:
    stands = {
        entry.name: entry.shown(made.stands.get(entry.name)) for entry in made.entries
    }
    given = (
        sent if sent is None or "csrfmiddlewaretoken" in sent else {**stands, **sent}
    )
    context = form.context(made, Back(sent=given, faults=faults)) | _told(found)
    status = 422 if faults else 200
    return render(request, "owner/walk_round.html", context, status=status)


def _told(found: Reckoned | None) -> dict[str, Any]:
    """What was reckoned, its labour in words."""
    if found is None:
        return {"found": None}
    took = found.estimate
    return {
        "found": found,
        "likely": lasting(took.likely_minutes),
        "late": lasting(took.late_minutes),
    }
