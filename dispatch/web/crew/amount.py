"""What a coat really took, from the form beside a visit that was reported."""

from django.http import HttpRequest, HttpResponseBase
from django.views.decorators.http import require_POST

from dispatch.actions import access, amounts
from dispatch.actions.errors import Refused
from dispatch.records.models import Visit
from dispatch.web.crew import route
from dispatch.web.gate import crew_only


@require_POST
@crew_only
def put_right(request: HttpRequest, stage_id: int) -> HttpResponseBase:
    """Set what a reported coat took; a refusal shows the page again with its sentence and keeps nothing."""
    given = {"do": "amount"} | route.wrote(request, "amount", "coat")
    return route.take(request, stage_id, given, lambda one: _put_right(request, one))


def _put_right(request: HttpRequest, visit: Visit) -> None:
    ounces, coat = route.ounces(request), request.POST.get("coat", "")
    if ounces is None:
        raise Refused("No amount was written. Write what the coat really took.")
    if coat not in ("0", "1", "2"):
        raise Refused("It is not known which coat is meant. Use the form beside it.")
    person = access.crew_member(request.user)
    amounts.put_right(visit.stage, int(coat), person, ounces)
