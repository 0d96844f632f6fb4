"""What the crew reads on a hull, from the form beside a visit."""

import math

from django.http import HttpRequest, HttpResponseBase
from django.views.decorators.http import require_POST

from dispatch.actions import access, readings
from dispatch.actions.errors import Refused
from dispatch.actions.readings import Read
from dispatch.records.models import Outfit, Visit
from dispatch.trade import units
from dispatch.web.crew import route
from dispatch.web.gate import crew_only

_FIELDS = ("surface", "air", "humidity", "heading", "reference", "at")


@require_POST
@crew_only
def take(request: HttpRequest, stage_id: int) -> HttpResponseBase:
    """Store what was read; a refusal shows the page again with its sentence and keeps nothing."""
    given = {"do": "read"} | route.wrote(request, *_FIELDS)
    return route.take(request, stage_id, given, lambda visit: _take(request, visit))


def _take(request: HttpRequest, visit: Visit) -> None:
    person, at = (
        access.crew_member(request.user),
        route.moment(request, visit.stage, visit.van_day.on),
    )
    heading = _number(request, "heading", "heading")
    read = Read(
        surface_c=_celsius(_number(request, "surface", "temperature")),
        air_c=_celsius(_number(request, "air", "temperature")),
        rh_pct=_number(request, "humidity", "humidity"),
    )
    if heading is not None:
        reference = request.POST.get("reference", "")
        readings.head(visit.stage, person, at, heading, reference)
    if heading is None or read != Read():
        readings.take(visit.stage, person, at, read)


def _number(request: HttpRequest, name: str, what: str) -> float | None:
    given = request.POST.get(name, "").strip()
    if not given:
        return None
    try:
        found = float(given)
    except ValueError as error:
        raise Refused(
            f"{given[:20]} is not a {what}. Write a number, or leave it empty."
        ) from error
    if not math.isfinite(found):
        raise Refused(f"{given[:20]} cannot be a {what}. Read it again.")
    return found


def _celsius(read: float | None) -> float | None:
    metric = Outfit.objects.values_list("units", flat=True).first() == "metric"
    return read if metric or read is None else units.f_to_c(read)
