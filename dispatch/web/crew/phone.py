"""When something was made that waited on a phone, as the phone tells it along with what it sends."""

from datetime import UTC, date, datetime, timedelta

from django.http import HttpRequest

from dispatch.actions import access, clock, phone_clock
from dispatch.actions.errors import Refused
from dispatch.actions.phone_clock import Made
from dispatch.records.models import Place

# Beyond it a clock tells nothing; what happened more than a week ago is refused in any case.
_LONGEST = timedelta(days=31)
_UNREADABLE = (
    "What the phone says of the time cannot be read. Enter the time it happened."
)
_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


def moment(request: HttpRequest, place: Place, day: date) -> datetime:
    """When it was made, by the phone's clock put right; now, where it did not wait.

    The phone sends milliseconds: ``made_at`` and ``sent_at`` by its own clock, and by how many it is ``ahead`` of
    the page it last had from us. Where it never learnt that, it counts by what its clock is off as it sends.

    Raises:
        Refused: they are no times, or cannot be right.
    """
    if not request.POST.get("made_at"):
        return clock.now()
    person = access.crew_member(request.user)
    return phone_clock.moment(_made(request), place, day, person)


def _made(request: HttpRequest) -> Made:
    try:
        at = _moment(request, "made_at")
        ahead = (
            timedelta(milliseconds=int(request.POST["ahead"]))
            if request.POST.get("ahead")
            else _moment(request, "sent_at") - clock.now()
        )
        far = abs(at - ahead - clock.now()) > _LONGEST
    except (KeyError, ValueError, OverflowError) as error:
        raise Refused(_UNREADABLE) from error
    if far:
        raise Refused(_UNREADABLE)
    return Made(at=at, ahead=ahead)


def _moment(request: HttpRequest, name: str) -> datetime:
    return _EPOCH + timedelta(milliseconds=int(request.POST[name]))
