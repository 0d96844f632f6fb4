"""Changes by hand after which a draft breaks a rule of the house less often, and no other rule more."""

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Any

from dispatch.actions import board_left_out, half_days, house_rules
from dispatch.actions.board import LeftOut
from dispatch.actions.board_reading import Reading
from dispatch.actions.by_hand import Answer
from dispatch.actions.mend_moves import elsewhere
from dispatch.actions.mend_swaps import swaps
from dispatch.records.models import WeekPlan
from dispatch.trade.shifts import Objection

Row = Mapping[str, Any]
Tried = Iterator[tuple[Row, Answer]]
_MOST_VISITS = 6
_THURSDAY_AND_FRIDAY = (3, 4)


def keeping(reading: Reading, code: str) -> Tried:
    """The cheapest move or swap that mends a rule, among those of whom or what it is broken by."""
    broken = house_rules.objections(reading.plan)
    mine = [one for one in broken if one.code == code]
    before = Counter(one.code for one in broken)
    tried = [*_moved(reading, mine), *_swapped(reading, mine)]
    for ask, answer in sorted(tried, key=_cheapest):
        after = _codes(reading, answer)
        if after[code] < before[code] and after <= before:
            yield ask, answer
            return


def let_in(reading: Reading, job: str) -> Tried:
    """The one stage of a job that a plan leaves out, put where others make room for it."""
    left = _short(reading)
    missing = [s.stage for row in left if row.job == job for s in row.stages]
    waiting = any(row.waiting for row in left if row.job == job)
    if len(missing) == 1 and not waiting:
        yield from elsewhere(reading, missing[0], lambda _span, _answer: True)


def let_one_in(reading: Reading, _which: str) -> Tried:
    """Whichever boat that a plan leaves out is let in the cheapest."""
    for job in dict.fromkeys(row.job for row in _short(reading)):
        yield from let_in(reading, job)


def _short(reading: Reading) -> list[LeftOut]:
    """What a plan leaves out of jobs that it could have finished."""
    rows = board_left_out.rows(reading)
    return [row for row in rows if not row.extra and not row.goes_on]


def _cheapest(one: tuple[Row, Answer]) -> tuple[int, int]:
    return len(one[1].lost), one[1].cents


def _codes(reading: Reading, answer: Answer) -> Counter[str]:
    plan = reading.plan
    changed = WeekPlan(
        pk=plan.pk, week=plan.week, problem=plan.problem, plan=dict(answer.plan or {})
    )
    return Counter(one.code for one in house_rules.judged(changed))


def _moved(reading: Reading, broken: list[Objection]) -> Tried:
    stops = [
        (row, stop)
        for row in _touched(reading, broken)
        for stop in row["stops"]
        if stop["do"] == "visit" and stop["stage"] in reading.stages
    ]
    likely = sorted(stops, key=lambda one: not _named(reading, broken, one[1]["stage"]))
    for _, stop in likely[:_MOST_VISITS]:
        yield from elsewhere(reading, stop["stage"], lambda _span, _answer: True)


def _swapped(reading: Reading, broken: list[Objection]) -> Tried:
    subjects = {one.subject for one in broken}
    for row in _touched(reading, broken):
        for person in row["team"]:
            if reading.name(person) in subjects:
                yield from swaps(reading, row, person)


def _touched(reading: Reading, broken: list[Objection]) -> list[Row]:
    """The van-days to come that the broken rule names somebody, some boat or some days of."""
    now = reading.line.minute(reading.now)
    ahead = [row for row in reading.van_days if row["depart"] >= now]
    if any(one.code == half_days.CODE for one in broken):
        dates = reading.line.dates
        return [r for r in ahead if dates[r["day"]].weekday() in _THURSDAY_AND_FRIDAY]
    subjects = {one.subject for one in broken}
    return [row for row in ahead if _who(reading, row) & subjects]


def _who(reading: Reading, row: Row) -> set[str]:
    boats = {
        reading.stages[stop["stage"]].job.boat.name
        for stop in row["stops"]
        if stop["do"] == "visit" and stop["stage"] in reading.stages
    }
    return boats | {reading.name(person) for person in row["team"]}


def _named(reading: Reading, broken: list[Objection], stage: str) -> bool:
    """Whether a rule's sentence tells of a stage's boat."""
    boat = reading.stages[stage].job.boat.name
    return any(boat in one.sentence for one in broken)
