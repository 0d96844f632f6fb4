"""What was done on a boat so far, what goes on now and what is still to come, one piece a stage."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from dispatch.actions import comes_first
from dispatch.records.models import Hold, Job, Stage

# Where no forecast says when film is hard, the page stops speaking of it after so long.
_LONGEST = timedelta(days=14)
DONE, SETTING, NOW, PLANNED, LATER = "done", "setting", "now", "planned", "later"


@dataclass(frozen=True, kw_only=True)
class Piece:
    """One stage: how far it is, its day where one is known, and that in words; planned pieces carry no hour."""

    name: str
    state: str
    day: date | None
    words: str


def of(job: Job, now: datetime) -> tuple[Piece, ...]:
    """The pieces of a job in order; of several ways to do a stage only the one taken, or its name once."""
    pieces: dict[tuple[str, int], Piece] = {}
    for stage in taken(job):
        # Two stages of one name are one stage in two ways, as long as no way is taken.
        again = (stage.name, 0 if stage.variant else stage.pk)
        pieces.setdefault(again, _piece(stage, now))
    return tuple(pieces.values())


def taken(job: Job) -> list[Stage]:
    """The stages of a job in order, ways that are not taken left out."""
    stages = list(
        job.stages.select_related("visit__van_day", "job__boat__place")
        .prefetch_related("holds", "followers__stage")
        .order_by("position")
    )
    return of_ways_taken(stages)


def of_ways_taken(stages: list[Stage]) -> list[Stage]:
    """A job's stages without those of ways that are not taken."""
    ways = comes_first.ways_taken(stages)
    return [
        stage
        for stage in stages
        if not ways or not stage.variant or stage.variant in ways
    ]


def wet(stage: Stage, now: datetime) -> Hold | None:
    """The hold of laid film that is not known to be hard yet; None where there is none.

    Film is hard at the latest end of its range, or once the crew began what needs it hard.
    """
    laid = [hold for hold in stage.holds.all() if not hold.planned]
    last = next((hold for hold in laid if hold.kind == Hold.Kind.SANDABLE), None)
    last = last or next(iter(laid), None)
    if last is None or _hard(last, now) or _worked_on(stage):
        return None
    return last


def _hard(hold: Hold, now: datetime) -> bool:
    known = hold.latest is not None and hold.latest <= now
    return known or hold.start + _LONGEST <= now


def _worked_on(stage: Stage) -> bool:
    return any(
        link.min_ref_h is not None and link.stage.state != Stage.State.TO_DO
        for link in stage.followers.all()
    )


def _piece(stage: Stage, now: datetime) -> Piece:
    zone = ZoneInfo(stage.job.boat.place.time_zone)
    visit = getattr(stage, "visit", None)
    if stage.state == Stage.State.DONE and stage.ended_at:
        ended = stage.ended_at.astimezone(zone)
        setting = wet(stage, now) is not None
        return Piece(
            name=stage.name,
            state=SETTING if setting else DONE,
            day=ended.date(),
            words=f"done {ended:%a} {ended.day} {ended:%b} {ended:%H:%M}"
            + (", setting" if setting else ""),
        )
    if stage.state == Stage.State.UNDER_WAY:
        return Piece(
            name=stage.name,
            state=NOW,
            day=now.astimezone(zone).date(),
            words="going on now",
        )
    if visit is not None and visit.end > now:
        on = visit.van_day.on
        return Piece(
            name=stage.name,
            state=PLANNED,
            day=on,
            words=f"planned {on:%a} {on.day} {on:%b}",
        )
    return Piece(
        name=stage.name, state=LATER, day=None, words=_without_a_day(stage.job)
    )


def _without_a_day(job: Job) -> str:
    """What is said of a stage that is not done and has no day."""
    if job.state == Job.State.CALLED_OFF or job.handed_back_at is not None:
        return "not done"
    if job.state == Job.State.PUT_OFF:
        return "put off, no day yet"
    return "still to come, no day yet"
