"""The crew takes back what was reported of the wrong boat, and puts it to the right one."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponseBase
from django.views.decorators.http import require_POST

from dispatch.actions import access, taken_back
from dispatch.actions.errors import Refused
from dispatch.records.models import Person, Visit
from dispatch.web.crew import route
from dispatch.web.gate import crew_only


@require_POST
@crew_only
def take(request: HttpRequest, stage_id: int) -> HttpResponseBase:
    """Take back the last report of a visit, or put all of them to another; a refusal shows the page again with its sentence."""

    def back(visit: Visit) -> None:
        person = access.crew_member(request.user)
        _take(visit, person, request.POST.get("other", ""))
        messages.success(
            request, "Taken back; the owner sees it among the latest changes."
        )

    return route.take(request, stage_id, {"do": "back"}, back)


def _take(visit: Visit, person: Person, wanted: str) -> None:
    if not wanted:
        taken_back.take_back(visit.stage, person)
        return
    there = {str(one.pk): one for one in taken_back.others(visit.stage)}
    if wanted not in there:
        raise Refused(
            "That boat is begun already, or not on your route. Choose another."
        )
    taken_back.put_to(visit.stage, there[wanted], person)
