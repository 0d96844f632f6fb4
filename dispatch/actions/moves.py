"""What holds a visit where it is in a plan, what moving it to another day would cost, and moving it."""

import json
import subprocess
import sys
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import Any

from dispatch.actions import access, board_reading, by_hand_rows, clock, still, timeline
from dispatch.actions.board_reading import Reading
from dispatch.actions.errors import Refused
from dispatch.actions.planner_words import said
from dispatch.planner.around import Hold
from dispatch.planner.plan import InvalidPlan, read_plan
from dispatch.planner.problem import InvalidProblem
from dispatch.planner.read import read_problem
from dispatch.planner.why_here import Here, why_here
from dispatch.records.models import Account, WeekPlan
from dispatch.trade.spans import Span

_LONGEST_S = 20.0
# Where `dispatch` can be imported from, whatever folder the keeper stands in.
_HOUSE = Path(__file__).resolve().parents[2]


@dataclass(frozen=True, kw_only=True)
class Bound:
    """One thing that bounds a visit's start; ``minutes`` away from it, 0 where it binds.

    ``wish``: going beyond costs money, no rule forbids it.
    """

    code: str
    at: datetime
    minutes: int
    sentence: str
    wish: bool


@dataclass(frozen=True, kw_only=True)
class Holds:
    """What holds a visit; by how many minutes it could start sooner or later, all else as it stands."""

    span: Span
    on: date
    sooner: int
    later: int
    before: tuple[Bound, ...]
    after: tuple[Bound, ...]


@dataclass(frozen=True, kw_only=True)
class Price:
    """A visit on another day: what the week then costs more in cents, or why it cannot be there.

    ``span`` is when it would be; ``lost`` names the stages that would have no visit any more; ``plan``
    is that week, by contract.
    """

    on: date
    span: Span | None
    cents: int | None
    lost: tuple[str, ...]
    why_not: str
    plan: Mapping[str, Any] | None


def holds(plan: WeekPlan, stage: str) -> Holds | None:
    """What holds a stage's visit in a built plan; None where it has none.

    Raises:
        Refused: the plan is not built, or cannot be read.
    """
    problem, answer = _built(plan)
    try:
        here = why_here(read_problem(problem), read_plan(answer), stage)
    except (InvalidProblem, InvalidPlan) as error:
        raise Refused(f"This plan cannot be read: {error}") from error
    return _holds(board_reading.read(plan), here) if here else None


def _built(plan: WeekPlan) -> tuple[dict[str, Any], dict[str, Any]]:
    if not plan.problem or not plan.plan or plan.zero_at is None:
        raise Refused("This week has no plan yet. Build it first.")
    return plan.problem, plan.plan


def _holds(reading: Reading, here: Here) -> Holds:
    def bounds(rows: tuple[Hold, ...]) -> Iterator[Bound]:
        for row in rows:
            yield Bound(
                code=row.code,
                at=reading.line.moment(row.minute),
                minutes=abs(row.minute - here.start),
                sentence=said(reading, row.sentence),
                wish=row.wish,
            )

    return Holds(
        span=reading.span(here.start, here.end),
        on=reading.line.dates[here.day],
        sooner=here.sooner,
        later=here.later,
        before=tuple(bounds(here.before)),
        after=tuple(bounds(here.after)),
    )


def prices(
    plan: WeekPlan, stage: str, days: tuple[date, ...] = ()
) -> tuple[Price, ...]:
    """What moving a stage's visit to each day of its week (or to these) would cost, days gone by left out.

    Runs the planner in a process of its own; takes a second or two.

    Raises:
        Refused: the plan is not built, breaks a rule, or the planner did not answer.
    """
    problem, answer = _built(plan)
    reading = board_reading.read(plan)
    problem = as_of_now(plan)
    wanted = days or reading.line.dates
    numbers = [
        day
        for day, on in enumerate(reading.line.dates)
        if on in wanted and problem["days"][day][1] > problem["now"]
    ]
    asked = {"problem": problem, "plan": answer, "stage": stage, "days": numbers}
    return tuple(_price(reading, stage, row) for row in put_question(asked))


def _visit(reading: Reading, answer: Mapping[str, Any], stage: str) -> Span | None:
    stops = (stop for row in answer["van_days"] for stop in row["stops"])
    found = next((stop for stop in stops if stop.get("stage") == stage), None)
    return reading.span(found["start"], found["end"]) if found else None


def _price(reading: Reading, stage: str, row: Mapping[str, Any]) -> Price:
    return Price(
        on=reading.line.dates[row["day"]],
        span=_visit(reading, row["plan"], stage) if row["plan"] else None,
        cents=row["cents"],
        lost=tuple(reading.stage_name(stage) for stage in row["lost"]),
        why_not=said(reading, row["why_not"]),
        plan=row["plan"],
    )


def as_of_now(plan: WeekPlan) -> dict[str, Any]:
    """A built plan's problem at this moment: van-days that have left stay as they stand, those still out go on freely.

    Raises:
        Refused: the plan is not built.
    """
    problem, answer = _built(plan)
    now = max(problem["now"], timeline.of(plan.week).minute(clock.now()))
    left = [_left(row, now) for row in answer["van_days"] if row["depart"] < now]
    gone = {stop.get("stage") for row in left for stop in row["stops"]}
    told = problem["standing"]
    if told:
        visits = [row for row in told["visits"] if row["stage"] not in gone]
        told = told | {"visits": visits}
    return dict(problem) | {"now": now, "frozen": left, "standing": told}


def _left(row: Mapping[str, Any], now: int) -> dict[str, Any]:
    if row["back"] <= now:
        return dict(row)
    rest = row["break"] if row["break"] and row["break"][0] < now else None
    stops = [stop for stop in row["stops"] if stop["start"] < now]
    return {**row, "open": True, "stops": stops, "break": rest}


def put_question(asked: Mapping[str, Any]) -> list[dict[str, Any]]:
    """Put a question to the planner's process; its rows.

    Raises:
        Refused: it did not answer in time, or cannot.
    """
    try:
        done = subprocess.run(
            [sys.executable, "-m", "dispatch.planner.ask"],
            cwd=_HOUSE,
            input=json.dumps(asked),
            capture_output=True,
            text=True,
            timeout=_LONGEST_S,
            check=False,
        )
    except subprocess.TimeoutExpired as error:
        raise Refused("The planner did not answer in time. Ask again later.") from error
    if done.returncode != 0:
        last = done.stderr.strip().splitlines()[-1:] or ["it gave no reason."]
        raise Refused(last[0])
    found: list[dict[str, Any]] = json.loads(done.stdout)
    return found


def take(plan: WeekPlan, stage: str, on: date, *, by: Account) -> WeekPlan:
    """Make a draft of the week with a stage's visit moved to a day; nobody is told until it is posted.

    Raises:
        Stranger: the account is not the owner's.
        Refused: the visit cannot be there, or the plan is neither a draft nor standing.
    """
    access.owner(by)
    if plan.state not in (WeekPlan.State.DRAFT, WeekPlan.State.STANDING):
        raise Refused("Only a draft or the standing week can be changed.")
    still.refuse()
    if begun(plan):
        raise Refused("This week has begun. Build it again instead of moving a visit.")
    found = next(iter(prices(plan, stage, (on,))), None)
    if found is None:
        raise Refused(f"{on:%A %d %B} is gone by, or is no day of this week.")
    if found.plan is None:
        raise Refused(found.why_not)
    reading = board_reading.read(plan)
    sentence = (
        f"“{reading.stage_name(stage)}” on {found.on:%A} {found.on.day} {found.on:%B}"
    )
    return by_hand_rows.draft(plan, dict(found.plan), plan.problem, sentence, by=by)


def begun(plan: WeekPlan) -> bool:
    """Whether a van of the plan has left by now: then a moved plan of it could not be posted."""
    reading = board_reading.read(plan)
    now = reading.line.minute(clock.now())
    return any(row["depart"] < now for row in reading.van_days)
