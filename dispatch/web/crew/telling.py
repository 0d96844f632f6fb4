"""The crew tells the owner what is wrong with a boat, in words or photos."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponseBase
from django.views.decorators.http import require_POST

from dispatch.actions import access, pictures, snags
from dispatch.actions.errors import Refused, Stranger
from dispatch.records.models import Visit
from dispatch.web.crew import route
from dispatch.web.gate import crew_only


@require_POST
@crew_only
def tell(request: HttpRequest, stage_id: int) -> HttpResponseBase:
    """Keep what was found; a refusal shows the page again with its sentence."""
    words = request.POST.get("words", "")
    # A byte more than is allowed is enough to refuse it by.
    sent = [
        one.read(pictures.MOST_BYTES + 1) for one in request.FILES.getlist("photos")
    ]

    def keep(visit: Visit) -> None:
        person = access.crew_member(request.user)
        try:
            snags.tell(visit.stage, person, words, sent)
        except Stranger:
            raise
        except Refused as refusal:
            again = " Choose the photos again." if sent else ""
            raise Refused(f"{refusal}{again}") from refusal
        messages.success(request, "The owner sees it among the latest changes.")

    return route.take(request, stage_id, {"do": "tell", "words": words}, keep)
