"""The crew tells that it cannot get to a boat: it waits, shows the gate, waits on or leaves her."""

from collections.abc import Callable, Mapping
from datetime import datetime

from django.core.exceptions import BadRequest
from django.http import HttpRequest, HttpResponseBase
from django.views.decorators.http import require_POST

from dispatch.actions import access, pictures, shut_out
from dispatch.actions.errors import Refused, Stranger
from dispatch.records.models import Person, ShutOut, Stage, Visit
from dispatch.web.crew import route
from dispatch.web.gate import crew_only

_DO: Mapping[str, Callable[[Stage, Person, datetime], ShutOut]] = {
    "wait": shut_out.wait,
    "on": shut_out.go_on,
    "leave": shut_out.leave,
}


@require_POST
@crew_only
def tell(request: HttpRequest, stage_id: int) -> HttpResponseBase:
    """Take what is told of it; a refusal shows the page again with its sentence."""
    given = {"do": "shut-out"}
    return route.take(request, stage_id, given, lambda visit: _take(request, visit))


@require_POST
@crew_only
def show(request: HttpRequest, stage_id: int) -> HttpResponseBase:
    """Keep photos of the gate; a refusal shows the page again with its sentence."""
    # A byte more than is allowed is enough to refuse it by.
    sent = [
        one.read(pictures.MOST_BYTES + 1) for one in request.FILES.getlist("photos")
    ]

    def keep(visit: Visit) -> None:
        person = access.crew_member(request.user)
        try:
            shut_out.show(visit.stage, person, sent)
        except Stranger:
            raise
        except Refused as refusal:
            again = " Choose the photos again." if sent else ""
            raise Refused(f"{refusal}{again}") from refusal

    return route.take(request, stage_id, {"do": "shut-out"}, keep)


def _take(request: HttpRequest, visit: Visit) -> None:
    act = _DO.get(request.POST.get("do", ""))
    if act is None:
        raise BadRequest(
            "A report says that somebody waits, waits on, or left the boat."
        )
    at = route.moment(request, visit.stage, visit.van_day.on)
    act(visit.stage, access.crew_member(request.user), at)
