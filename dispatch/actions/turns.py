"""Which way to turn a boat on her trailer, by the shade of the days ahead, and whether that is worth the work."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from django.db import transaction
from django.db.models import QuerySet

from dispatch.actions import clock, due, facts, history, rates, stages, windows
from dispatch.actions.errors import Refused
from dispatch.actions.recipes import SIDES, TURN
from dispatch.records.models import Boat, Job, Place, Stage
from dispatch.trade import turning
from dispatch.trade.sky import Site
from dispatch.trade.spans import Span
from dispatch.trade.turning import Coats, Lie

TURNED = "turned"
_AHEAD = timedelta(days=9)
# A heading that was set is kept while it leaves so much of what the best would.
_NEARLY = 0.9


@dataclass(frozen=True, kw_only=True)
class Turn:
    """A boat as she lies and as she would be turned, over some days; ``lying`` is None where nobody read her heading.

    ``given`` says that the owner set the heading by hand. ``minutes`` is by the clock, with ``people``.
    """

    lying: Lie | None
    turned: Lie
    given: bool
    worth: bool
    minutes: int
    people: int
    days: tuple[Span, ...]
    coats: Coats


def of(job: Job, span: Span) -> Turn | None:
    """What a turn would do for a job in a span's hours; None where she cannot be turned or has nothing to be shaded."""
    made = {stage.key: stage for stage in job.stages.filter(variant=TURNED)}
    turn = next((one for key, one in made.items() if key.startswith(TURN.visit)), None)
    coats, days = _coats(made, span), _days(job.boat.place, span)
    if turn is None or coats is None or not days:
        return None
    site = facts.site(job.boat.place, span)
    lying = _lying(job, site, coats, days)
    turned = _turned(job, site, coats, days, turn.heading_true_deg)
    people, minutes = min((int(size), took) for size, took in turn.minutes.items())
    return Turn(
        lying=lying,
        turned=turned,
        given=job.boat.turned_heading_deg is not None,
        worth=turning.is_worth(turned, lying, rates.extras().turning_worth_minutes),
        minutes=minutes,
        people=people,
        days=days,
        coats=coats,
    )


def turnable(place: Place) -> QuerySet[Job]:
    """Jobs in the book at a place that may be done turned."""
    found = _in_the_book().filter(boat__place=place, stages__variant=TURNED)
    return found.distinct()


def _in_the_book() -> QuerySet[Job]:
    return Job.objects.filter(
        state__in=(Job.State.AGREED, Job.State.IN_HAND)
    ).select_related("boat__place", "kind", "sheet")


def ahead() -> Span:
    """The days a heading is sought for."""
    return Span(clock.now(), clock.now() + _AHEAD)


@transaction.atomic
def aim(job: Job) -> None:
    """Set the heading of a job's turned way by the days ahead, and have its stages judged by it.

    Nothing changes once any of that way is begun, done or posted.
    """
    made = list(
        job.stages.filter(variant=TURNED).select_related("visit", "job__boat__place")
    )
    if not made or any(_fixed(stage) for stage in made):
        return
    found = of(job, ahead())
    if found is None:
        return
    heading = found.turned.heading_true_deg
    changed = [stage for stage in made if _is_new(stage, heading)]
    if not changed:
        return
    for stage in changed:
        stage.save(update_fields=("heading_true_deg", "name"))
        due.put("judge-stage", str(stage.pk))
    history.write("aim-turn", f"job {job.key}", _told(job, found), actor="planner")


def lies_now(stage: Stage) -> None:
    """Once she was turned she lies by her new heading; in the caller's transaction."""
    if stage.key.startswith(TURN.visit) and stage.heading_true_deg is not None:
        Boat.objects.filter(pk=stage.job.boat_id).update(
            heading_deg=stage.heading_true_deg,
            heading_reference=Boat.HeadingReference.TRUE,
            heading_read_on=clock.today(stage.job.boat.place.time_zone),
        )


def lies(boat: Boat, heading_deg: float, reference: str, at: datetime) -> str:
    """Store how a boat lies and turn her stages' headings with her, in the caller's transaction; say what changed.

    A way she was or is to be turned to keeps its own heading, unless a better one is found.
    """
    before, on = boat.heading_deg, at.astimezone(ZoneInfo(boat.place.time_zone)).date()
    boat.heading_deg, boat.heading_reference = heading_deg, reference
    boat.heading_read_on = on
    boat.save(update_fields=("heading_deg", "heading_reference", "heading_read_on"))
    heads(boat)
    was = "not known before" if before is None else f"{before:03.0f}° before"
    north = "true" if reference == Boat.HeadingReference.TRUE else "by compass"
    return f"{boat.name} heads {heading_deg:03.0f}° {north}, {was}."


def heads(boat: Boat) -> None:
    """Give a boat's open stages the heading she now lies by, in the caller's transaction.

    Raises:
        Refused: it was read by compass where the place's declination is not known.
    """
    for job in _in_the_book().filter(boat=boat):
        job.boat = boat
        lying = job.stages.filter(family="spray").exclude(variant=TURNED)
        lying.exclude(state=Stage.State.DONE).update(
            heading_true_deg=stages.true_heading(job)
        )
        aim(job)


def said(turn: Turn) -> str:
    """What a heading leaves and what it costs, in a sentence."""
    whole = (
        f"both sides can be coated on {turn.turned.whole_days} of {len(turn.days)} days"
    )
    lies = (
        "nobody has read how she lies"
        if turn.lying is None
        else f"on {turn.lying.whole_days} as she lies"
    )
    return (
        f"Turned to {turn.turned.heading_true_deg:03.0f}° true {whole}, {lies}; "
        f"it takes {turn.people} people {turn.minutes} min."
    )


def _told(job: Job, turn: Turn) -> str:
    return f"{job.boat.name}: {said(turn)}"


def _fixed(stage: Stage) -> bool:
    return stage.state != Stage.State.TO_DO or hasattr(stage, "visit")


def _is_new(stage: Stage, heading: float) -> bool:
    """Set a stage's heading, not stored yet; whether that changed anything."""
    before = stage.heading_true_deg, stage.name
    stage.heading_true_deg = heading
    if stage.key.startswith(TURN.visit):
        place = stage.job.boat.place
        stage.name = (
            f"{TURN.name} to {heading:03.0f}° true{_by_compass(place, heading)}"
        )
    return before != (stage.heading_true_deg, stage.name)


def _by_compass(place: Place, heading: float) -> str:
    """The same by the crew's compass, where the declination is known."""
    if place.declination_deg is None:
        return ""
    return f" ({(heading - place.declination_deg) % 360:03.0f}° by compass)"


def _coats(made: dict[str, Stage], span: Span) -> Coats | None:
    """What the sides of a turned boat need: each the minutes of its visit and of levelling."""
    slots: dict[str, int] = {}
    limits, dark = rates.limits(), False
    for stage in made.values():
        work = facts.work(stage, span, limits)
        dark = work.dark
        slots |= {
            panel: work.quickest_minutes + work.tail_minutes
            for panel in stage.panels
            if panel in SIDES
        }
    if not slots:
        return None
    rest = limits.dark_rest_minutes if dark else limits.white_rest_minutes
    return Coats(slot_minutes=slots, rest_minutes=rest, flare_deg=limits.flare_deg)


def _days(place: Place, span: Span) -> tuple[Span, ...]:
    """Of each of the place's days in a span, the longest hours it may be worked at."""
    zone, found = ZoneInfo(place.time_zone), dict[date, Span]()
    for free in windows.access(place, span):
        day = free.start.astimezone(zone).date()
        if day not in found or free.length > found[day].length:
            found[day] = free
    return tuple(found.values())


def _lying(job: Job, site: Site, coats: Coats, days: tuple[Span, ...]) -> Lie | None:
    try:
        heading = stages.true_heading(job)
    except Refused:
        return None
    return None if heading is None else turning.lie(site, heading % 360, coats, days)


def _turned(
    job: Job, site: Site, coats: Coats, days: tuple[Span, ...], now: float | None
) -> Lie:
    """By the heading the owner gave; else by the one set before while it is nearly the best, else by the best."""
    given = job.boat.turned_heading_deg
    if given is not None:
        return turning.lie(site, given % 360, coats, days)
    found = turning.best(site, coats, days)
    if now is None:
        return found
    kept = turning.lie(site, now, coats, days)
    near = kept.start_minutes >= _NEARLY * found.start_minutes
    return kept if near and kept.worth[:2] == found.worth[:2] else found
