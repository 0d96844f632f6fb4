"""What days a customer may be promised: from the planned day to one that leaves room for the weather."""

from collections.abc import Container
from dataclasses import dataclass
from datetime import date, timedelta

# Spring and autumn slip more: an assumption for a coast at 44 N.
_SLIPPERY_MONTHS = frozenset({3, 4, 10})
_SLOTS_FOR_A_HARD_DATE = 2
_ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, kw_only=True)
class Slip:
    """Working days kept for the weather after the planned finish: near, and far ahead or in a slippery month."""

    near_days: int = 1
    far_days: int = 2
    far_after_days: int = 5


def range_of(
    planned: tuple[date, date],
    *,
    sprays: bool,
    made_on: date,
    weekdays: Container[int],
    slip: Slip,
) -> tuple[date, date]:
    """The first and the last day to promise for work planned from one day to another.

    ``weekdays`` are those the outfit works on, Monday is 0. Work without film keeps its planned finish.

    Raises:
        ValueError: the plan ends before it begins, or the outfit works on no day.
    """
    start, finish = planned
    if finish < start:
        raise ValueError("A plan ends no sooner than it begins.")
    if not any(day in weekdays for day in range(7)):
        raise ValueError("An outfit works on some day of the week.")
    far = (start - made_on).days > slip.far_after_days
    far = far or start.month in _SLIPPERY_MONTHS
    days = (slip.far_days if far else slip.near_days) if sprays else 0
    return start, _after(finish, days, weekdays)


def hard_date_may_be_given(spray_days: int) -> bool:
    """Whether a hard date may be given: two days before it, apart from one another, on which each side may be sprayed."""
    return spray_days >= _SLOTS_FOR_A_HARD_DATE


def _after(day: date, working_days: int, weekdays: Container[int]) -> date:
    while working_days:
        day += _ONE_DAY
        working_days -= day.weekday() in weekdays
    return day
