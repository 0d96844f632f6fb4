"""What a coat really took, from the form beside a visit that was reported."""

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from dispatch.actions import access, amounts, taken_once
from dispatch.actions.errors import Refused, Stranger
from dispatch.records.models import Visit
from dispatch.web.crew import route
from dispatch.web.crew.knots import Refusal
from dispatch.web.gate import crew_only


@require_POST
@crew_only
def put_right(request: HttpRequest, stage_id: int) -> HttpResponseBase:
    """Set what a reported coat took; a refusal shows the page again with its sentence and keeps nothing."""
    visit = route.standing_visit(stage_id)
    try:
        taken_once.report(*route.sender(request), lambda: _put_right(request, visit))
    except Stranger as stranger:
        raise PermissionDenied(str(stranger)) from stranger
    except Refused as refusal:
        given = {name: request.POST.get(name, "") for name in ("amount", "coat")}
        given["do"] = "amount"
        refused = Refusal(visit_id=visit.pk, sentence=str(refusal), given=given)
        return route.page(request, visit.van_day.on, refused)
    return redirect(f"/route/?day={visit.van_day.on}#visit-{visit.pk}")


def _put_right(request: HttpRequest, visit: Visit) -> None:
    ounces, coat = route.ounces(request), request.POST.get("coat", "")
    if ounces is None:
        raise Refused("No amount was written. Write what the coat really took.")
    if coat not in ("0", "1", "2"):
        raise Refused("It is not known which coat is meant. Use the form beside it.")
    person = access.crew_member(request.user)
    amounts.put_right(visit.stage, int(coat), person, ounces)
