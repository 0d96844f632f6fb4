"""Snags of fixed appointments: a plan that has one at another minute or not at all, and customers who know the old one."""

from collections.abc import Iterator

from dispatch.actions import appointments, late_days
from dispatch.actions.board import Snag
from dispatch.actions.board_reading import Reading
from dispatch.actions.board_words import dated, lasting, when
from dispatch.records.models import HistoryEntry, Job, Stage, WeekPlan

_ANEW = "Plan the rest anew: it makes a draft, and nobody is told until you post it."
_AGAIN = "Build the week again."


def of(reading: Reading) -> Iterator[Snag]:
    """One for each boat that is held to a minute of this week, or was till it was moved, and is not planned so."""
    held = {
        name: stage
        for name, stage in reading.stages.items()
        if stage.fixed_start is not None and stage.state == Stage.State.TO_DO
    }
    if not reading.answer or not held:
        return
    starts = {
        stop["stage"]: reading.line.moment(stop["start"])
        for row in reading.van_days
        for stop in row["stops"]
        if stop["do"] == "visit"
    }
    moved = set(
        HistoryEntry.objects.filter(verb=appointments.VERB).values_list(
            "subject", flat=True
        )
    )
    zone = reading.line.zone
    for name, stage in held.items():
        if name in starts:
            if starts[name] != stage.fixed_start:
                yield _snag(reading, stage, f"has her {when(starts[name], zone)}")
            yield from _late(reading, name, stage)
        elif _concerns(reading, stage, moved):
            yield _snag(reading, stage, "has no visit for it")


def _late(reading: Reading, name: str, stage: Stage) -> Iterator[Snag]:
    """An appointment the crew comes too late for on a day that runs over."""
    at, late = stage.fixed_start, late_days.of(reading).get(name)
    if at is None or late is None or late.start <= at or at <= reading.now:
        return
    zone, after = reading.line.zone, (late.start - at).total_seconds() / 60
    yield Snag(
        weight=56,
        subject=stage.job.boat.name,
        stage=name,
        sentence=(
            f"If that day runs over as one in five does, the crew is with her {when(late.start, zone)}, {lasting(after)} "
            f"after her appointment at {when(at, zone)}."
        ),
        mend="Put something less before it that day, or another van there.",
    )


def _concerns(reading: Reading, stage: Stage, moved: set[str]) -> bool:
    """Whether a week without a visit for an appointment lacks it: it is of this week, or was and somebody was told so."""
    at = stage.fixed_start
    if at is None or at <= reading.now:
        return False
    here = reading.horizon.holds(at)
    return here or (f"job {stage.job.key}" in moved and bool(_told(reading, stage.job)))


def _snag(reading: Reading, stage: Stage, has: str) -> Snag:
    zone = reading.line.zone
    stands = reading.plan.state == WeekPlan.State.STANDING
    which = "the week that stands" if stands else "this draft"
    at = dated(stage.fixed_start, zone) if stage.fixed_start else ""
    return Snag(
        weight=99,
        subject=stage.job.boat.name,
        sentence=f"Her appointment is {at}, and {which} {has}.{_told(reading, stage.job)}",
        mend=_ANEW if stands else _AGAIN,
        anew=stands,
        about=f"appointment:{stage.job.key}",
    )


def _told(reading: Reading, job: Job) -> str:
    """What the customer knows that does not hold any more, as a sentence with the blank before it."""
    notice = appointments.told(job)
    if notice is None or notice.begins_at is None:
        return ""
    return f" {job.boat.customer.name} was told {dated(notice.begins_at, reading.line.zone)}."
