"""Make a visit fast to its van and minute, and cast it off again: the planner never moves what is made fast."""

from django.db import transaction

from dispatch.actions import access, board_reading, history
from dispatch.actions.board_words import when
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Pin, Van, WeekPlan


@transaction.atomic
def make_fast(plan: WeekPlan, stage: str, *, by: Account) -> Pin:
    """Hold a stage to the van and minute that a plan has it at, in every plan to come.

    Raises:
        Stranger: the account is not the owner's.
        Refused: it has no visit in the plan, is done, or is made fast already.
    """
    access.owner(by)
    reading = board_reading.read(plan)
    row = reading.stages.get(stage)
    found = next(
        (
            (day["van"], stop["start"])
            for day in reading.van_days
            for stop in day["stops"]
            if stop.get("stage") == stage
        ),
        None,
    )
    if row is None or found is None:
        raise Refused("It has no visit in this plan, so there is nothing to make fast.")
    if row.state == row.State.DONE:
        raise Refused(f"{row.name} is done. Nothing was changed.")
    van, start = Van.objects.get(key=found[0]), reading.line.moment(found[1])
    pin, _ = Pin.objects.update_or_create(
        stage=row, defaults={"van": van, "start": start, "by": by}
    )
    at = when(start, reading.line.zone)
    history.write(
        "make-fast",
        f"job {row.job.key}",
        f"Made {row.name} on {row.job.boat.name} fast: {at} with {van.name}.",
        by=by,
    )
    return pin


@transaction.atomic
def cast_off(plan: WeekPlan, stage: str, *, by: Account) -> None:
    """Let a stage be moved again.

    Raises:
        Stranger: the account is not the owner's.
        Refused: it is not made fast.
    """
    access.owner(by)
    row = board_reading.read(plan).stages.get(stage)
    if row is None or not Pin.objects.filter(stage=row).delete()[0]:
        raise Refused("It is not made fast. Nothing was changed.")
    history.write(
        "cast-off",
        f"job {row.job.key}",
        f"Cast {row.name} on {row.job.boat.name} off: it may be moved again.",
        by=by,
    )
