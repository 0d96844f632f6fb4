"""What the owner of a boat can do to help, by what is on the boat and what comes next."""

from collections.abc import Iterator
from datetime import datetime
from zoneinfo import ZoneInfo

from dispatch.actions import boat_next, boat_stands, boat_strip, rates, wettings
from dispatch.notices import english
from dispatch.records.models import Job, Outfit, Place, Sheet, Stage
from dispatch.trade.words import Words

_COVER_OFF = "Take the cover off and loose things out of her."


def of(job: Job, now: datetime) -> Iterator[str]:
    """Short requests, the most needed first; nothing where there is nothing to do."""
    if job.state in (Job.State.PUT_OFF, Job.State.CALLED_OFF, Job.State.ASKED):
        return
    wet = tuple(_wet(job, now))
    yield from wet
    if job.handed_back_at is not None:
        yield from _care(job)
        return
    visit = boat_next.upcoming(job, now)
    if visit is not None:
        if not wet:
            yield _COVER_OFF
        yield from _before(visit.stage, job.boat.place, visit.start)


def before(job: Job, at: datetime) -> Iterator[str]:
    """What to do before the crew first comes for a job, as it is told when the job is agreed."""
    stages = sorted(job.stages.all(), key=lambda one: one.family != "spray")
    if stages:
        first, *others = _before(stages[0], job.boat.place, at)
        yield from (first, _COVER_OFF, *others)


def _wet(job: Job, now: datetime) -> Iterator[str]:
    hold = boat_stands.last_to_set(boat_strip.taken(job), now)
    if hold is None:
        return
    latest = hold.latest or hold.end
    until = (
        f"until {_local(job, latest):%a %H:%M}"
        if latest and hold.end
        else "until we tell you"
    )
    yield f"Do not touch, wash or cover her {until}."
    yield f"Keep sprinklers off and dogs and children away {until}."


def _before(stage: Stage, place: Place, at: datetime) -> Iterator[str]:
    if place.gate or place.sign_in_minutes:
        yield "Tell the yard that we come, and that we may work on her."
    else:
        yield "Move cars away from her and leave the gate open."
    if place.water:
        yield "Leave the water turned on."
    if wettings.comes(place, at):
        yield "Turn the sprinkler off, the night before too."
    if stage.family == "spray":
        yield _spray(stage.sheet)


def _spray(sheet: Sheet | None) -> str:
    if sheet is not None and sheet.kind == Sheet.Kind.TWO_PART:
        limits, words = rates.shifts(), Words(system=Outfit.objects.get().units)
        return (
            f"While we spray, keep people and animals at least {words.distance(limits.bystander_m)} off, "
            f"and for {limits.reentry_minutes:.0f} minutes after; the crew may ask for more, by the product's sheet and local rules."
        )
    return "While we spray, keep people, animals and cars well away; the crew says how far, by the product's sheet and local rules."


def _care(job: Job) -> Iterator[str]:
    days = round(rates.customers().care_days)
    if job.kind.sprays and days:
        yield english.care(days, Outfit.objects.get().care)
    letters = job.stages.filter(key__startswith="letters").exclude(state="done")
    if job.boat.registration and letters.exists():
        yield "Her registration numbers are not on her. Put them on before she is used."


def _local(job: Job, moment: datetime) -> datetime:
    return moment.astimezone(ZoneInfo(job.boat.place.time_zone))
