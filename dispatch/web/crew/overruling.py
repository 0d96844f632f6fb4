"""A lead on site overrules what is a lead's to overrule, with a reason."""

from typing import TYPE_CHECKING, cast

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from dispatch.actions import overruling, taken_once
from dispatch.actions.errors import Refused, Stranger
from dispatch.web.crew import route
from dispatch.web.crew.knots import Refusal
from dispatch.web.gate import crew_only

if TYPE_CHECKING:
    from dispatch.records.models import Account


@require_POST
@crew_only
def overrule(request: HttpRequest, stage_id: int) -> HttpResponseBase:
    """Overrule one rule for a visit; a refusal shows the page again with its sentence."""
    visit = route.standing_visit(stage_id)
    code, why = (request.POST.get(name, "") for name in ("code", "why"))
    try:
        by = cast("Account", request.user)
        taken_once.report(
            *route.sender(request),
            lambda: overruling.overrule(visit, code, by=by, why=why),
        )
    except Stranger as stranger:
        raise PermissionDenied(str(stranger)) from stranger
    except Refused as refusal:
        refused = Refusal(
            visit_id=visit.pk,
            sentence=str(refusal),
            given={"do": "overrule", "code": code, "why": why},
        )
        return route.page(request, visit.van_day.on, refused)
    return redirect(f"/route/?day={visit.van_day.on}#visit-{visit.pk}")
