"""What a van-day offers a master problem: stages at times, moves of trailers, minutes and money."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from dispatch.planner.plan import Tow, VanDay, Visit
from dispatch.planner.problem import Problem, lag_minutes

# Money in the master is in sixtieths of a cent, so that wages by the minute stay whole.
FINE = 60


@dataclass(frozen=True, slots=True)
class Slot:
    """A stage from one minute to another; the same in every van-day that has it so."""

    stage: str
    start: int
    end: int


@dataclass(kw_only=True, slots=True)
class Offer:
    """All that a list of van-days offers, by the index of the van-day."""

    slots: dict[Slot, list[int]] = field(default_factory=dict)
    moves: list[tuple[int, Tow]] = field(default_factory=list)
    paid: list[int] = field(default_factory=list)
    van_cost: list[int] = field(default_factory=list)


def offer(problem: Problem, columns: Sequence[VanDay]) -> Offer:
    """Read van-days for the master."""
    out = Offer()
    for index, column in enumerate(columns):
        rest = column.rest[1] - column.rest[0] if column.rest else 0
        out.paid.append(column.back - column.depart - rest)
        out.van_cost.append(_van_cost(problem, column))
        for stop in column.stops:
            if isinstance(stop, Visit):
                out.slots.setdefault(Slot(stop.stage, stop.start, stop.end), []).append(
                    index
                )
            else:
                out.moves.append((index, stop))
    return out


def _van_cost(problem: Problem, column: VanDay) -> int:
    van = problem.vans[column.van]
    at, metres = van.base, 0
    for stop in column.stops:
        legs = (
            (problem.stages[stop.stage].place,)
            if isinstance(stop, Visit)
            else (problem.places.index(stop.origin), problem.places.index(stop.to))
        )
        for to in legs:
            metres += problem.drive_m[at][to]
            at = to
    metres += problem.drive_m[at][van.base]
    return FINE * van.cents_per_day + FINE * van.cents_per_km * metres // 1000


def held_until(problem: Problem, slot: Slot) -> int | None:
    """Until when the boat rests after a slot; None where its table does not allow that end."""
    hold = lag_minutes(problem.stages[slot.stage].hold_min, slot.end)
    return None if hold is None else slot.end + hold


def slot_cost(problem: Problem, slot: Slot) -> int:
    """Risk of a start, and what moving it from what was told costs, in the master's money."""
    stage = problem.stages[slot.stage]
    risk = sum(cents for s, e, cents in stage.risk if s <= slot.start < e)
    return FINE * risk + _moved(problem, slot)


def _moved(problem: Problem, slot: Slot) -> int:
    told = problem.standing
    if told is None or slot.stage not in told.visits:
        return 0
    was = told.visits[slot.stage]
    if problem.day_of(was) != problem.day_of(slot.start):
        return FINE * told.day_cents
    beyond = max(0, abs(slot.start - was) - told.tolerance_min)
    return (
        FINE * told.shift_cents if beyond else 0
    ) + beyond * told.shift_cents_per_hour


def follows(problem: Problem, before: Slot, after: Slot) -> bool:
    """Whether a slot may follow another by the lags between their stages (same van-day left out)."""
    for rule in problem.stages[after.stage].after:
        if rule.stage == before.stage:
            low = lag_minutes(rule.min_lag, before.end)
            high = (
                None if rule.max_lag is None else lag_minutes(rule.max_lag, before.end)
            )
            gap = after.start - before.end
            late = rule.max_lag is not None and (high is None or gap > high)
            return not (low is None or gap < low or late)
    return True
