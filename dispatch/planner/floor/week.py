"""The week as a linear programme over what its vans can do each day."""

from dispatch.planner.floor import order, standing
from dispatch.planner.floor.done import spent
from dispatch.planner.floor.finish import finish
from dispatch.planner.floor.ledger import Ledger
from dispatch.planner.floor.slots import Slots


def week(slots: Slots) -> Ledger:
    """Return all rows and variables, but for the outings themselves."""
    ledger = Ledger(slots)
    for job in slots.problem.jobs.values():
        finish(ledger, job)
    for stage in slots.problem.stages.values():
        order.add(ledger, stage)
    for kind in slots.kinds:
        standing.add(ledger, kind)
    _told(ledger)
    ledger.sums.constant += spent(slots.problem)
    return ledger


def _told(ledger: Ledger) -> None:
    """What was told costs a day's move, less what the pieces give back."""
    told = ledger.problem.standing
    if told is not None:
        ledger.sums.constant += told.day_cents * len(told.visits)
