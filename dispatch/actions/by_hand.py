"""The owner changes a week by hand: puts a visit elsewhere, swaps who rides. Asking changes nothing; doing makes a draft."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Any

from dispatch.actions import (
    access,
    board_reading,
    by_hand_rows,
    moves,
    one_moment,
    snapshot_air,
    still,
    windows,
)
from dispatch.actions.board_reading import Reading
from dispatch.actions.board_words import between
from dispatch.actions.errors import Refused
from dispatch.actions.planner_words import said
from dispatch.planner import by_hand
from dispatch.planner.by_hand import Done, Where
from dispatch.planner.plan import InvalidPlan, Plan, read_plan, write_plan
from dispatch.planner.problem import InvalidProblem, Pin, Problem
from dispatch.planner.read import read_problem
from dispatch.records.models import Account, Boat, Person, Stage, Van, WeekPlan
from dispatch.records.models import Pin as PinRow
from dispatch.trade.spans import Span

Row = dict[str, Any]


@dataclass(frozen=True, kw_only=True)
class Answer:
    """What a change by hand would do: cents it adds, visits that slide and those that fall out, each as a sentence.

    Where it cannot be, ``why_not`` says what binds, with its numbers, and ``plan`` is None.
    """

    sentence: str
    cents: int = 0
    slides: tuple[str, ...] = ()
    lost: tuple[str, ...] = ()
    why_not: tuple[str, ...] = ()
    plan: Row | None = None

    @property
    def fits(self) -> bool:
        """Whether it can be done."""
        return self.plan is not None


def try_put(
    plan: WeekPlan,
    stage: str,
    van: Van,
    start: datetime,
    *,
    team: tuple[Person, ...] = (),
) -> Answer:
    """What putting a stage's visit at a van and a moment would do; nothing is stored.

    Raises:
        Refused: the plan is not built, cannot be read, or knows no such stage, van or day.
    """
    week = _Week.of(plan)
    where = _where(week, van, start, team)
    if stage not in week.problem.stages:
        raise Refused(f"The week has no stage {stage}. Build the week again.")
    done = by_hand.put(week.problem, week.plan, stage, where)
    what = f"“{week.reading.stage_name(stage)}”"
    at = f"{start.astimezone(week.reading.line.zone):%A at %H:%M}"
    answer = _answer(week, done, f"{what} on {at} with {van.name}", stage)
    return answer if answer.fits else _with_rule(week, answer, stage, start)


def put(
    plan: WeekPlan,
    stage: str,
    van: Van,
    start: datetime,
    *,
    by: Account,
    team: tuple[Person, ...] = (),
) -> WeekPlan:
    """Make a draft with a stage's visit at a van and a moment; nobody is told until it is posted.

    Raises:
        Stranger: the account is not the owner's.
        Refused: it cannot be there, or everything is held still.
        Crossed: somebody else changed that boat's visits since.
    """
    access.owner(by)
    job = stage.partition(".")[0]

    def ask(tip: WeekPlan) -> Answer:
        return _of_boat(job, try_put(tip, stage, van, start, team=team))

    return _do(plan, job, ask, by)


def _of_boat(job: str, answer: Answer) -> Answer:
    """An answer whose sentence names the boat: the draft and the history tell of many."""
    name = Boat.objects.filter(jobs__key=job).values_list("name", flat=True).first()
    return replace(answer, sentence=f"{name}, {answer.sentence}") if name else answer


def try_swap(plan: WeekPlan, van: Van, day: int, out: Person, into: Person) -> Answer:
    """What it would do if one person rode a van's day (its number, from 0) in another's stead; nothing is stored.

    Raises:
        Refused: the plan is not built or cannot be read, or knows no such person.
    """
    week = _Week.of(plan)
    for person in (out, into):
        if person.key not in week.problem.people:
            raise Refused(f"{person.name} is not in this week. Build it again first.")
    done = by_hand.swap(week.problem, week.plan, (van.key, day), out.key, into.key)
    on = week.reading.line.dates[day]
    return _answer(
        week, done, f"{into.name} rides in {van.name} on {on:%A}, not {out.name}"
    )


def swap(
    plan: WeekPlan, van: Van, day: int, out: Person, into: Person, *, by: Account
) -> WeekPlan:
    """Make a draft in which one person rides a van's day in another's stead; nobody is told until it is posted.

    Raises:
        Stranger: the account is not the owner's.
        Refused: it cannot be, or everything is held still.
    """
    access.owner(by)
    return _do(plan, "", lambda tip: try_swap(tip, van, day, out, into), by)


def try_without(plan: WeekPlan, job: str, why: str = "") -> Answer:
    """What leaving a job out of a week would do; nothing is stored.

    Raises:
        Refused: the plan is not built or cannot be read, or nothing of the job is in it.
    """
    week = _Week.of(plan)
    gone = [name for name in week.plan.visits() if week.problem.stages[name].job == job]
    if not gone:
        raise Refused(
            "Nothing of this job is in the week. There is nothing to leave out."
        )
    done = by_hand.without(week.problem, week.plan, gone)
    boat = week.reading.stages[gone[0]].job.boat.name
    told = f"{boat} is left out of this week{f': {why}' if why else ''}"
    return _answer(week, done, told)


def _do(
    plan: WeekPlan, job: str, ask: Callable[[WeekPlan], Answer], by: Account
) -> WeekPlan:
    """Apply a change to the newest draft, which may have had other boats changed since."""
    still.refuse()
    tip = by_hand_rows.tip(plan, job)
    answer = ask(tip)
    if answer.plan is None:
        raise Refused(" ".join((f"{answer.sentence}: not possible.", *answer.why_not)))
    week = snapshot_air.without(moves.as_of_now(tip))
    return by_hand_rows.draft(tip, answer.plan, week, answer.sentence, by=by)


@dataclass(frozen=True, kw_only=True)
class _Week:
    """A plan and its problem as of now, read, with the pins that stand."""

    reading: Reading
    problem: Problem
    plan: Plan

    @classmethod
    def of(cls, plan: WeekPlan) -> "_Week":
        return one_moment.once(("by-hand", plan.pk), lambda: cls._of(plan))

    @classmethod
    def _of(cls, plan: WeekPlan) -> "_Week":
        try:
            problem = read_problem(snapshot_air.without(moves.as_of_now(plan)))
            found = read_plan(plan.plan | {"bound": None})
        except (InvalidProblem, InvalidPlan) as error:
            raise Refused(f"This plan cannot be read: {error}") from error
        reading = board_reading.names(plan)
        return cls(
            reading=reading, problem=_pinned(problem, found, reading), plan=found
        )


def _with_rule(week: _Week, answer: Answer, stage: str, start: datetime) -> Answer:
    """A refusal that names the yard's own dated rule first, where that is what keeps the crew out."""
    row = week.reading.stages[stage]
    length = timedelta(minutes=min(week.problem.stages[stage].minutes.values()))
    rule = windows.shut(row.job.boat.place, Span(start, start + length))
    return replace(answer, why_not=(rule, *answer.why_not)) if rule else answer


def _pinned(problem: Problem, plan: Plan, reading: Reading) -> Problem:
    """The problem with the pins that stand now, where the plan keeps them; no others."""
    pins = {
        f"{row.stage.job.key}.{row.stage.key}": row
        for row in PinRow.objects.select_related("stage__job", "van")
    }
    seen, stages = plan.visits(), dict(problem.stages)
    for name, row in stages.items():
        pin = pins.get(name)
        where = seen.get(name)
        kept = None
        if pin is not None and where is not None:
            at = reading.line.minute(pin.start)
            if (where[0].van, where[1].start) == (pin.van.key, at):
                kept = Pin(van=pin.van.key, start=at)
        if row.pinned != kept:
            stages[name] = replace(row, pinned=kept)
    return replace(problem, stages=stages)


def _where(week: _Week, van: Van, start: datetime, team: tuple[Person, ...]) -> Where:
    line = week.reading.line
    minute = line.minute(start)
    day = week.problem.day_of(minute)
    if day is None:
        raise Refused(f"{start.astimezone(line.zone):%A %d %B} is no day of this week.")
    if van.key not in week.problem.vans:
        raise Refused(f"{van.name} is not in this week. Build it again first.")
    keys = tuple(sorted(person.key for person in team))
    return Where(van=van.key, day=day, start=minute, team=keys)


def _answer(week: _Week, done: Done, sentence: str, stage: str = "") -> Answer:
    reading = week.reading
    if done.plan is None:
        why = tuple(said(reading, line, stage) for line in done.why_not)
        return Answer(sentence=sentence, why_not=why)
    seen = done.plan.visits()
    slides = tuple(
        f"{_named(reading, name)}: {between(reading.span(seen[name][1].start, seen[name][1].end), reading.line.zone)}"
        for name in done.moved
    )
    return Answer(
        sentence=sentence,
        cents=done.cents,
        slides=slides,
        lost=tuple(_named(reading, name) for name in done.lost),
        plan=write_plan(done.plan),
    )


def _named(reading: Reading, name: str) -> str:
    stage: Stage | None = reading.stages.get(name)
    return f"{stage.job.boat.name}, {stage.name}" if stage else name
