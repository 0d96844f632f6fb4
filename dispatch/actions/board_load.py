"""How full each day of a plan is, against the hours people are there; a day too full is a snag."""

from collections.abc import Iterator
from datetime import date

from dispatch.actions import board_strips, rates, runs_over
from dispatch.actions.board import Snag
from dispatch.actions.board_reading import Reading
from dispatch.actions.board_strips import Visit
from dispatch.actions.board_words import lasting
from dispatch.trade.buffer import Load


def snags(reading: Reading) -> Iterator[Snag]:
    """Days with no room left for what runs over, the fullest numbers beside the limit."""
    limits = rates.board()
    most, late_most = limits.full_day_pct / 100, limits.full_late_day_pct / 100
    for day, load in loads(reading).items():
        if load.too_full(most, late_most):
            yield Snag(
                weight=42,
                subject=f"{day:%A}",
                sentence=(
                    f"{lasting(load.planned_minutes)} of labour planned, {lasting(load.late_minutes)} if it runs over as one "
                    f"day in five does, of {lasting(load.there_minutes)} that people are there: "
                    f"{_pct(load.share)} and {_pct(load.late_share)}, at most {most:.0%} and {late_most:.0%}."
                ),
                mend="Put something on another day, or leave it out.",
                about=f"full:{reading.line.dates.index(day)}",
                setting="board",
            )


def loads(reading: Reading) -> dict[date, Load]:
    """The load of every day on which something is planned."""
    known = runs_over.came_before(reading.jobs)
    planned: dict[date, tuple[float, float]] = {}
    for rows in board_strips.visits(reading).values():
        for visit in rows:
            if not visit.done:
                day = visit.span.start.astimezone(reading.line.zone).date()
                minutes = _minutes(visit)
                late = minutes * runs_over.late_factor(visit.stage.job, known)
                before = planned.get(day, (0.0, 0.0))
                planned[day] = (before[0] + minutes, before[1] + late)
    return {
        day: Load(
            planned_minutes=minutes,
            late_minutes=late,
            there_minutes=_there(reading, day),
        )
        for day, (minutes, late) in sorted(planned.items())
    }


def _minutes(visit: Visit) -> float:
    return visit.span.length.total_seconds() / 60 * len(visit.team)


def _there(reading: Reading, day: date) -> float:
    """Minutes that people are on duty on a date, as the week was built."""
    if day not in reading.line.dates:
        return 0.0
    index = reading.line.dates.index(day)
    duties = (one["duty"][index] for one in reading.problem.get("people", ()))
    return float(sum(duty[1] - duty[0] for duty in duties if duty))


def _pct(share: float | None) -> str:
    return "nobody is there" if share is None else f"{share:.0%}"
