"""What must be done, and set, before a stage may be started."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from dispatch.actions import holds
from dispatch.records.models import Stage, StageLink


@dataclass(frozen=True, kw_only=True)
class Held:
    """What holds a stage back: until when where that is known, ``never`` where waiting will not help."""

    sentence: str
    until: datetime | None = None
    never: bool = False


def of(stage: Stage, start: datetime, now: datetime) -> Held | None:
    """What holds a stage back from starting at a moment, the longest wait first; None where nothing does."""
    found = [held for link in links(stage) if (held := _link(link, start, now))]
    return max(found, key=_weight, default=None)


def links(stage: Stage) -> list[StageLink]:
    """What comes before a stage, ways of the job that are not taken left out."""
    rows = stage.links.select_related(
        "before__job__boat__place", "before__sheet", "before__visit"
    )
    taken = ways_taken(stage.job.stages.select_related("visit"))
    return [
        link
        for link in rows
        if not taken or not link.before.variant or link.before.variant in taken
    ]


def ways_taken(stages: Iterable[Stage]) -> set[str]:
    """The ways a job is being done: those of stages begun, or in the posted week."""
    return {
        stage.variant
        for stage in stages
        if stage.variant
        and (stage.state != Stage.State.TO_DO or getattr(stage, "visit", None))
    }


def _weight(held: Held) -> tuple[bool, bool, float]:
    """Never weighs most, then a wait without an end, then the longest."""
    until = held.until.timestamp() if held.until else 0.0
    return held.never, held.until is None, until


def _link(link: StageLink, start: datetime, now: datetime) -> Held | None:
    before = link.before
    if before.state != Stage.State.DONE or before.ended_at is None:
        return _undone(before, start, now)
    return _overdue(link, before.ended_at, start) or _setting(
        link, before.ended_at, start
    )


def _undone(before: Stage, start: datetime, now: datetime) -> Held | None:
    """Before its planned end it is trusted to come in time; after that only a report counts."""
    visit = getattr(before, "visit", None)
    if visit is not None and now <= visit.end <= start:
        return None
    return Held(sentence=f"{before.name} comes first and is not reported done.")


def _overdue(link: StageLink, ended: datetime, start: datetime) -> Held | None:
    if link.max_minutes is None or start <= ended + timedelta(minutes=link.max_minutes):
        return None
    hours, at = link.max_minutes / 60, _local(link, ended)
    return Held(
        never=True,
        sentence=f"{link.before.name} ended {at}; this must follow within {hours:g} h. Ask the owner what to do again.",
    )


def _setting(link: StageLink, ended: datetime, start: datetime) -> Held | None:
    wait = ended + timedelta(minutes=link.min_minutes)
    if link.min_ref_h is None:
        return _until(link, ended, wait, start)
    times = holds.sets(link.before, ended, link.min_ref_h)
    if times is None or times.expected is None:
        return Held(
            sentence=f"{link.before.name} ended {_local(link, ended)}; when it is hard enough is not known by this forecast. Ask the owner."
        )
    return _until(
        link, ended, max(wait, times.expected), start, " Try a hidden spot first."
    )


def _until(
    link: StageLink, ended: datetime, ready: datetime, start: datetime, test: str = ""
) -> Held | None:
    if ready <= start:
        return None
    return Held(
        until=ready,
        sentence=f"{link.before.name} ended {_local(link, ended)}; it is ready for this about {_local(link, ready)}.{test}",
    )


def _local(link: StageLink, moment: datetime) -> str:
    zone = ZoneInfo(link.before.job.boat.place.time_zone)
    return f"{moment.astimezone(zone):%a %H:%M}"
