"""Half-days of people left empty at the end of a week, for what runs over before it."""

from collections.abc import Iterator
from typing import Any

from dispatch.actions import clock, rates
from dispatch.actions.timeline import Timeline
from dispatch.records.models import Job, WeekPlan
from dispatch.trade import buffer, shifts
from dispatch.trade.shifts import Objection
from dispatch.trade.spans import Span, subtract

CODE = "no-half-day"
_THURSDAY_AND_FRIDAY = (3, 4)


def objections(plan: WeekPlan, line: Timeline) -> Iterator[Objection]:
    """The house rule that a draft breaks which fills its Thursday and Friday to the last hour.

    Where many of its boats are here for the first time more is left empty. A week that leaves nothing to plan of
    both days, and one without people there, has none to keep.
    """
    terms, days = rates.half_days(), list(_days(line))
    free = [gap for day in days for gap in _gaps(plan, line, day)]
    if not free:
        return
    found = buffer.half_days(
        [gap.length.total_seconds() / 60 for gap in free], terms.minutes
    )
    many = _first_timers_pct(plan) > terms.first_timers_pct
    wanted = round(terms.rush_count if many else terms.count)
    if found < wanted:
        yield Objection(
            code=CODE,
            subject="Thursday and Friday",
            sentence=_sentence(found, wanted, terms, many=many),
            strength=shifts.STRENGTHS[CODE],
        )


def _sentence(found: int, wanted: int, terms: buffer.HalfDays, *, many: bool) -> str:
    hours = f"{terms.minutes / 60:g} h"
    why = (
        f", as more than {terms.first_timers_pct:.0f} % of its boats are here for the first time"
        if many
        else ""
    )
    return (
        f"Thursday and Friday leave {found or 'no'} half-day{'' if found == 1 else 's'} of a person empty "
        f"({hours} in one piece); {wanted} should be{why}, for what runs over or rains off."
    )


def _days(line: Timeline) -> Iterator[int]:
    """The Thursdays and Fridays that are not over, by their number in the week."""
    now = clock.now()
    for index, day in enumerate(line.dates):
        ends = line.moment(line.days[index][1])
        if day.weekday() in _THURSDAY_AND_FRIDAY and ends > now:
            yield index


def _gaps(plan: WeekPlan, line: Timeline, day: int) -> Iterator[Span]:
    """The hours of each person's duty on a day that no van takes; an empty one is told as none."""
    for person in plan.problem.get("people", ()):
        duty = person["duty"][day]
        if not duty:
            continue
        whole = Span(line.moment(duty[0]), line.moment(duty[1]))
        out = [_out(line, row) for row in _rides(plan, day, person)]
        yield from subtract((whole,), out)


def _rides(plan: WeekPlan, day: int, person: dict[str, Any]) -> Iterator[Any]:
    for row in plan.plan["van_days"]:
        if row["day"] == day and _key(person) in row["team"]:
            yield row


def _key(person: dict[str, Any]) -> str:
    return str(person["id"])


def _out(line: Timeline, row: dict[str, Any]) -> Span:
    return Span(line.moment(row["depart"]), line.moment(row["back"]))


def _first_timers_pct(plan: WeekPlan) -> float:
    """How many in a hundred of the boats in a draft were never handed back before."""
    keys = {
        stop["stage"].partition(".")[0]
        for row in plan.plan["van_days"]
        for stop in row["stops"]
        if stop["do"] == "visit"
    }
    boats = set(Job.objects.filter(key__in=keys).values_list("boat", flat=True))
    back = Job.objects.filter(boat__in=boats, state=Job.State.HANDED_BACK)
    known = set(back.values_list("boat", flat=True))
    return 100 * len(boats - known) / len(boats) if boats else 0.0
