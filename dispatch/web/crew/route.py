"""The crew's day on a phone, and its buttons."""

from collections.abc import Callable, Mapping
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from django.core.exceptions import BadRequest
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe

from dispatch.actions import (
    access,
    clock,
    reporting,
    second_coat,
    show_route,
    taken_once,
    which_boat,
)
from dispatch.actions.board_words import names
from dispatch.actions.errors import Refused, Stranger, Unsure
from dispatch.records.models import Outfit, Person, Stage, Visit
from dispatch.trade import units
from dispatch.web.crew import knots, phone, to_cover
from dispatch.web.crew.knots import Refusal
from dispatch.web.gate import crew_only

_FIRST, _LAST = date(2000, 1, 1), date(2100, 12, 31)
_GONE = "{stage} is in no posted week any more, so nothing was stored. Tell the owner."


@require_safe
@crew_only
def show(request: HttpRequest) -> HttpResponseBase:
    """The route of a day, today's unless another is asked for."""
    try:
        day = _day(request.GET.get("day", ""))
    except Refused as refusal:
        return render(request, "400.html", {"exception": str(refusal)}, status=400)
    return page(request, day)


@require_POST
@crew_only
def report(request: HttpRequest, stage_id: int) -> HttpResponseBase:
    """Report a visit started, its first coat on, or done; a refusal shows the page again with its sentence.

    So does a question, which boat is meant, with a button that answers it.

    It may come hours later, when the visit stands on another day or nowhere any more: the page it was told on
    names the stage and the day.
    """
    stage = get_object_or_404(
        Stage.objects.select_related("job__boat__place", "sheet"), pk=stage_id
    )
    visit = Visit.objects.filter(stage=stage).select_related("van_day").first()
    day = visit.van_day.on if visit else clock.today()
    try:
        day = _day(request.POST["on"]) if request.POST.get("on") else day
        taken_once.report(*sender(request), lambda: _report(request, stage, day))
    except Refused as refusal:
        given = {"do": "report"} | wrote(request, "at", "amount")
        return refused(request, visit, day, refusal, given)
    return redirect(f"/route/?day={day}#visit-{visit.pk if visit else 0}")


def sender(request: HttpRequest) -> tuple[str, Person]:
    """The word the phone gave this report, and who tells it."""
    return request.POST.get("told_as", ""), access.crew_member(request.user)


def wrote(request: HttpRequest, *names: str) -> dict[str, str]:
    """What was written in some fields."""
    return {name: request.POST.get(name, "") for name in names}


def take(
    request: HttpRequest,
    stage_id: int,
    given: Mapping[str, str],
    act: Callable[[Visit], object],
) -> HttpResponseBase:
    """Take once what is told of a visit of a posted week; ``given`` is what was written, and ``do`` in it its form.

    A refusal shows the route again with its sentence and all that was written, be it that she is somebody else's now.
    """
    stage, visit = get_object_or_404(Stage, pk=stage_id), _standing(stage_id)
    if visit is None:
        gone = Refused(_GONE.format(stage=stage.name))
        return refused(request, None, clock.today(), gone, given)
    day = visit.van_day.on
    try:
        taken_once.report(*sender(request), lambda: act(visit))
    except Refused as refusal:
        return refused(request, visit, day, refusal, given)
    return redirect(f"/route/?day={day}#visit-{visit.pk}")


def refused(
    request: HttpRequest,
    visit: Visit | None,
    day: date,
    refusal: Refused,
    given: Mapping[str, str],
) -> HttpResponse:
    """The route of a day with what was refused, and what was written."""
    statuses = {Stranger: 403, Unsure: 409}
    shown = Refusal(
        visit_id=visit.pk if visit else 0,
        sentence=str(refusal),
        given=dict(given),
        status=statuses.get(type(refusal), 400),
        asks=request.POST.get("do", "") if isinstance(refusal, Unsure) else "",
        yes=refusal.yes if isinstance(refusal, Unsure) else "",
    )
    return page(request, day, shown)


def _standing(stage_id: int) -> Visit | None:
    """A stage's visit in a posted week."""
    rows = Visit.objects.select_related(
        "van_day", "stage__job__boat__place", "stage__sheet"
    )
    return rows.filter(stage_id=stage_id, van_day__plan__state="standing").first()


def page(
    request: HttpRequest, day: date, refusal: Refusal | None = None
) -> HttpResponse:
    person = access.crew_member(request.user)
    route, today = show_route.route(person, day), clock.today()
    zone = Outfit.objects.values_list("time_zone", flat=True).first() or "UTC"
    found = list(knots.of(route, refusal, today)) if route else []
    context = {
        "route": route,
        "team": names(route.team) if route else "",
        "knots": found,
        "refusal": None if any(knot.refusal for knot in found) else refusal,
        "covers": to_cover.lines() if day == today else (),
        "day": day,
        "today": today,
        "before": day - timedelta(days=1),
        "after": day + timedelta(days=1),
        "next_day": None if route else show_route.next_day(person, day),
        "amount_unit": "oz" if _reads_ounces() else "ml",
        "as_of": clock.now().astimezone(ZoneInfo(zone)),
        "as_of_ms": round(clock.now().timestamp() * 1000),
        "zone_name": zone,
        "owner_phone": show_route.owner_phone(),
        "degrees": "°F" if _reads_ounces() else "°C",
    }
    return render(
        request, "crew/route.html", context, status=refusal.status if refusal else 200
    )


def _report(request: HttpRequest, stage: Stage, day: date) -> None:
    person, at = access.crew_member(request.user), moment(request, stage, day)
    act = request.POST.get("do")
    sure = request.POST.get("sure") == "yes"
    which_boat.check(stage, person, day, sure=sure)
    if act == "start":
        reporting.start(stage, person, at)
    elif act == "coat":
        reporting.coat_on(stage, person, at, ounces(request))
    elif act == "done":
        second_coat.check(stage, ounces(request), sure=sure)
        reporting.finish(stage, person, at, ounces(request))
    else:
        raise BadRequest(
            "A report says that a visit was started, its first coat is on, or it is done."
        )


def moment(request: HttpRequest, stage: Stage, day: date) -> datetime:
    """The time entered, on a day in the place's zone; where none was, now, or when a phone without signal kept it."""
    given = request.POST.get("at", "").strip()
    if not given:
        return phone.moment(request, stage.job.boat.place, day)
    try:
        wall = time.fromisoformat(given)
    except ValueError as error:
        raise Refused(
            f"{given[:20]} is not a time. Write it as 09:30, or leave it empty for now."
        ) from error
    zone = ZoneInfo(stage.job.boat.place.time_zone)
    return datetime.combine(day, wall.replace(tzinfo=None), tzinfo=zone)


def ounces(request: HttpRequest) -> float | None:
    """The amount entered, in US fluid ounces whatever it was read in; None where none was.

    Raises:
        Refused: it is no number.
    """
    given = request.POST.get("amount", "").strip()
    if not given:
        return None
    try:
        amount = float(given)
    except ValueError as error:
        raise Refused(
            f"{given[:20]} is not an amount. Write a number, as 14.5, or leave it empty."
        ) from error
    return amount if _reads_ounces() else units.ml_to_oz(amount)


def _reads_ounces() -> bool:
    return Outfit.objects.values_list("units", flat=True).first() != "metric"


def _day(given: str) -> date:
    if not given:
        return clock.today()
    try:
        day = date.fromisoformat(given)
    except ValueError:
        day = date.min
    if not _FIRST <= day <= _LAST:
        raise Refused(
            "That is not a day we can show. Write it as 2027-05-24, or leave it out for today."
        )
    return day
