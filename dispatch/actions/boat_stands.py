"""Where a boat stands, in one sentence in the present tense."""

from datetime import datetime
from zoneinfo import ZoneInfo

from dispatch.actions import boat_strip
from dispatch.records.models import Hold, Job, Stage

BARE, WET, HARD = "bare", "wet", "hard"
_OVER = {
    Job.State.PUT_OFF: "{boat} is put off. We will tell you when there is a new day.",
    Job.State.CALLED_OFF: "The work on {boat} is called off.",
    Job.State.ASKED: "{boat} is asked for; nothing is agreed yet.",
}
_SPRAYED = {
    "port": "port side",
    "starboard": "starboard side",
    "ends": "transom and top rail",
}


def of(job: Job, now: datetime) -> str:
    """The sentence; what is not known is said to be not known."""
    boat, stages = job.boat.name, boat_strip.taken(job)
    if job.state in _OVER:
        return _OVER[Job.State(job.state)].format(boat=boat)
    wet = [stage for stage in stages if boat_strip.wet(stage, now)]
    if wet:
        return _setting(job, wet, now) + _going(job, stages)
    if job.handed_back_at is not None:
        back = _local(job, job.handed_back_at)
        return f"{boat} is finished, since {back:%a} {back.day} {back:%b}."
    return _going(job, stages).strip() or _so_far(job, stages)


def _going(job: Job, stages: list[Stage]) -> str:
    names = [stage.name for stage in stages if stage.state == Stage.State.UNDER_WAY]
    return (
        f" The crew is at work on {job.boat.name} now: {_listed(names)}."
        if names
        else ""
    )


def _so_far(job: Job, stages: list[Stage]) -> str:
    done = [stage for stage in stages if stage.state == Stage.State.DONE]
    if not done:
        return f"{job.boat.name} is in our book; no work on her has begun."
    last = max(done, key=lambda stage: (stage.ended_at or job.taken_at, stage.position))
    return f"{job.boat.name} is in hand: {len(done)} of {len(stages)} visits {'is' if len(done) == 1 else 'are'} done, the last was {last.name.lower()}."


def part(stage: Stage) -> str:
    """The part of her that a stage lays its film on, as people say it."""
    return f"the {_SPRAYED.get(stage.key.partition('-')[0], 'hull')}"


def hard_when(job: Job, hold: Hold) -> str:
    """When film is hard enough to cover, with its range; never a guess where the forecast does not say."""
    if hold.end is None:
        return "when it is hard enough to cover is not known yet"
    end = _local(job, hold.end)
    if hold.latest is None:
        return f"hard enough to cover about {end:%a %H:%M} or later"
    late = _local(job, hold.latest)
    return f"hard enough to cover about {end:%a %H:%M}, at the latest {late:%a %H:%M}"


def last_to_set(stages: list[Stage], now: datetime) -> Hold | None:
    """The hold that ends last among film that is setting; one whose end is not known ends last of all."""
    held = [hold for stage in stages if (hold := boat_strip.wet(stage, now))]
    return max(
        held,
        key=lambda hold: (hold.end is None, hold.end.timestamp() if hold.end else 0.0),
        default=None,
    )


def panels(job: Job, now: datetime) -> dict[str, str]:
    """Of each sprayed part of the hull whether it is bare, wet or hard."""
    found = dict.fromkeys(_SPRAYED, BARE)
    for stage in boat_strip.taken(job):
        part = stage.key.removeprefix("late-").partition("-")[0]
        if part in found and stage.state == Stage.State.DONE:
            wet = boat_strip.wet(stage, now) is not None
            # One coat that is laid anew once hard is no coat.
            hard = BARE if stage.laid_anew_by_id else HARD
            found[part] = WET if wet else hard
    return found if job.kind.sprays else {}


def _setting(job: Job, wet: list[Stage], now: datetime) -> str:
    parts = [
        _SPRAYED.get(stage.key.partition("-")[0], stage.name.lower()) for stage in wet
    ]
    hold = last_to_set(wet, now)
    when = hard_when(job, hold) if hold else ""
    verb = "sprayed" if all(stage.family == "spray" for stage in wet) else "done"
    first = _listed(parts)
    return f"{first[0].upper()}{first[1:]} {verb} and setting: {when}."


def _listed(things: list[str]) -> str:
    *most, last = things
    # One "and" is enough: port side, starboard side, transom and top rail.
    joined = ", " if " and " in last else " and "
    return f"{', '.join(most)}{joined}{last}" if most else last


def _local(job: Job, moment: datetime) -> datetime:
    return moment.astimezone(ZoneInfo(job.boat.place.time_zone))
