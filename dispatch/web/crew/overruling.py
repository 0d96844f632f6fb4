"""A lead on site overrules what is a lead's to overrule, with a reason."""

from typing import TYPE_CHECKING, cast

from django.http import HttpRequest, HttpResponseBase
from django.views.decorators.http import require_POST

from dispatch.actions import overruling
from dispatch.web.crew import route
from dispatch.web.gate import crew_only

if TYPE_CHECKING:
    from dispatch.records.models import Account


@require_POST
@crew_only
def overrule(request: HttpRequest, stage_id: int) -> HttpResponseBase:
    """Overrule one rule for a visit; a refusal shows the page again with its sentence."""
    by, given = cast("Account", request.user), route.wrote(request, "code", "why")
    return route.take(
        request,
        stage_id,
        {"do": "overrule"} | given,
        lambda visit: overruling.overrule(visit, **given, by=by),
    )
