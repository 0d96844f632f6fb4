"""The crew tells the owner what is wrong with a boat, in words or photos."""

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from dispatch.actions import pictures, snags, taken_once
from dispatch.actions.errors import Refused, Stranger
from dispatch.web.crew import route
from dispatch.web.crew.knots import Refusal
from dispatch.web.gate import crew_only


@require_POST
@crew_only
def tell(request: HttpRequest, stage_id: int) -> HttpResponseBase:
    """Keep what was found; a refusal shows the page again with its sentence."""
    visit = route.standing_visit(stage_id)
    words = request.POST.get("words", "")
    # A byte more than is allowed is enough to refuse it by.
    sent = [
        one.read(pictures.MOST_BYTES + 1) for one in request.FILES.getlist("photos")
    ]
    try:
        word, person = route.sender(request)
        taken_once.report(
            word, person, lambda: snags.tell(visit.stage, person, words, sent)
        )
    except Stranger as stranger:
        raise PermissionDenied(str(stranger)) from stranger
    except Refused as refusal:
        again = " Choose the photos again." if sent else ""
        refused = Refusal(
            visit_id=visit.pk,
            sentence=f"{refusal}{again}",
            given={"do": "tell", "words": words},
        )
        return route.page(request, visit.van_day.on, refused)
    messages.success(request, "The owner sees it among the latest changes.")
    return redirect(f"/route/?day={visit.van_day.on}#visit-{visit.pk}")
