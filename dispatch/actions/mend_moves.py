"""Visits put at other hours that mend a snag: under a sky that allows them, on film that is hard, in time for a promise."""

from collections.abc import Callable, Iterator, Mapping
from datetime import datetime, timedelta
from itertools import combinations, islice
from typing import Any

from dispatch.actions import (
    board_strips,
    board_work_snags,
    by_hand,
    late_days,
    rates,
    visit_sky,
    windows,
)
from dispatch.actions.board_reading import Reading
from dispatch.actions.board_strips import Visit
from dispatch.actions.by_hand import Answer
from dispatch.planner.cost import finishes
from dispatch.planner.plan import read_plan
from dispatch.planner.read import read_problem
from dispatch.records.models import Person, Van
from dispatch.trade.spans import Span

Row = Mapping[str, Any]
Tried = Iterator[tuple[Row, Answer]]
_STEP = timedelta(minutes=30)
_MOST_HOURS, _MOST_VANS, _MOST_VISITS, _MOST_TEAMS = 24, 2, 6, 6


def under_the_sky(reading: Reading, stage: str) -> Tried:
    """A visit at hours that the newest forecast allows."""

    def good(span: Span, _answer: Answer) -> bool:
        says = visit_sky.of(reading.stages[stage], span, reading.now)
        return says.word == visit_sky.ALLOWS or says.likely

    yield from elsewhere(reading, stage, good)


def on_hard_film(reading: Reading, stage: str) -> Tried:
    """A visit after the film it works on is hard, should the hours come colder."""
    rows = _rows(reading, stage)
    visit = next(one for one in rows if one.name == stage)
    ready = max(board_work_snags.latest(visit, rows), default=reading.now)
    yield from elsewhere(reading, stage, lambda span, _: span.start >= ready)


def with_time_to_spare(reading: Reading, stage: str) -> Tried:
    """A visit that ends long enough before the end of its hours."""
    spare = timedelta(minutes=rates.board().sky_spare_minutes)
    row = reading.stages[stage]
    ahead = Span(reading.now, reading.horizon.end)
    roomy = [one.span for one in windows.of(row, ahead)]

    def good(span: Span, answer: Answer) -> bool:
        days = (answer.plan or {}).get("van_days", ())
        late = late_days.by(reading, days).get(stage, span).end
        return any(w.start <= span.start and late + spare <= w.end for w in roomy)

    yield from elsewhere(reading, stage, good)


def in_time(reading: Reading, job: str) -> Tried:
    """A job's last visit at hours with which she is done by her promise."""
    yield from _done_by(reading, job, timedelta(0))


def in_good_time(reading: Reading, job: str) -> Tried:
    """A job's last visit at hours with which she is done well before her promise."""
    spare = timedelta(minutes=rates.board().promise_spare_minutes)
    yield from _done_by(reading, job, spare)


def _done_by(reading: Reading, job: str, spare: timedelta) -> Tried:
    rows = [one for one in board_strips.visits(reading)[job] if not one.done]
    by = next(one.promised_by for one in reading.jobs if one.key == job)
    if not rows or by is None:
        return
    last = max(rows, key=lambda one: one.span.end)

    def good(_span: Span, answer: Answer) -> bool:
        problem = read_problem(reading.problem)
        ends = finishes(problem, read_plan({**(answer.plan or {}), "bound": None}))
        return job in ends and reading.line.moment(ends[job]) + spare <= by

    yield from elsewhere(reading, last.name, good)


def off_a_day(reading: Reading, day: str) -> Tried:
    """A visit of a day that is too full, on another day."""
    number = int(day)
    on = reading.line.days[number]
    first, last = (reading.line.moment(edge) for edge in on)
    rows = [
        visit
        for visits in board_strips.visits(reading).values()
        for visit in visits
        if not visit.done and max(first, reading.now) <= visit.span.start < last
    ]
    longest = sorted(rows, key=lambda one: one.span.start - one.span.end)
    for visit in longest[:_MOST_VISITS]:
        yield from elsewhere(
            reading, visit.name, lambda span, _: not first <= span.start < last
        )


def _rows(reading: Reading, stage: str) -> list[Visit]:
    return board_strips.visits(reading)[reading.stages[stage].job.key]


def elsewhere(
    reading: Reading, stage: str, good: Callable[[Span, Answer], bool]
) -> Tried:
    """A visit at each hour it may have and each likely van; those that fit and are good."""
    where = stands(reading, stage)
    row = next(one for one in reading.problem["stages"] if one["id"] == stage)
    least = min(map(int, row["minutes"]))
    for start in starts(reading, stage):
        for van, team in _vans(reading, where, start, least):
            answer = by_hand.try_put(reading.plan, stage, van, start, team=team)
            span = span_in(reading, answer, stage)
            if span is not None and good(span, answer):
                yield ask(reading, stage, (van, start, team)), answer


def stands(reading: Reading, stage: str) -> Row | None:
    """The van-day that has a stage; None where none has."""
    stops = ((row, stop) for row in reading.van_days for stop in row["stops"])
    return next((row for row, stop in stops if stop.get("stage") == stage), None)


def starts(reading: Reading, stage: str) -> list[datetime]:
    """Some of the half hours a stage may begin at, spread over what is left of the week."""
    found = half_hours(reading, stage)
    thin = -(-len(found) // _MOST_HOURS) or 1
    return found[::thin]


def half_hours(reading: Reading, stage: str) -> list[datetime]:
    """Half hours to come within the hours a stage had when the week was built."""
    row = next(one for one in reading.problem["stages"] if one["id"] == stage)
    quickest = timedelta(minutes=min(row["minutes"].values()))
    found = []
    for first, last in row["windows"]:
        start = max(reading.line.moment(first), reading.now + _STEP)
        while start + quickest <= reading.line.moment(last):
            found.append(start.replace(second=0, microsecond=0))
            start += _STEP
    return found


def _vans(
    reading: Reading, here: Row | None, start: datetime, least: int
) -> Iterator[tuple[Van, tuple[Person, ...]]]:
    """Its own van, with its own team where it stands idle that day, then one other that is out; of what has none yet also an idle one."""
    minute = reading.line.minute(start)
    day = next(d for d, (a, b) in enumerate(reading.line.days) if a <= minute < b)
    out = [row["van"] for row in reading.van_days if row["day"] == day]
    own = [here["van"]] if here else []
    vans = {van.key: van for van in Van.objects.filter(active=True)}
    likely = [key for key in dict.fromkeys([*own, *out]) if key in vans]
    for key in likely[:_MOST_VANS]:
        team = () if key in out or here is None else here["team"]
        known = [reading.people[one] for one in team if one in reading.people]
        yield vans[key], tuple(known)
    if here is None:
        idle = [van for key, van in vans.items() if key not in out]
        for few in free(reading, day, least):
            yield from ((van, few) for van in idle[:1])


def free(reading: Reading, day: int, least: int) -> Iterator[tuple[Person, ...]]:
    """The first few teams of a size of whoever is there and rides nowhere that day."""
    rows = [row for row in reading.van_days if row["day"] == day]
    riding = {person for row in rows for person in row["team"]}
    there = [
        reading.people[row["id"]]
        for row in reading.problem["people"]
        if row["duty"][day] and row["id"] not in riding and row["id"] in reading.people
    ]
    yield from islice(combinations(there, least), _MOST_TEAMS)


def span_in(reading: Reading, answer: Answer, stage: str) -> Span | None:
    """When an answer has a stage; None where it does not."""
    stops = (s for row in (answer.plan or {}).get("van_days", ()) for s in row["stops"])
    found = next((stop for stop in stops if stop.get("stage") == stage), None)
    return reading.span(found["start"], found["end"]) if found else None


def ask(
    reading: Reading, stage: str, where: tuple[Van, datetime, tuple[Person, ...]]
) -> Row:
    """What puts a stage there, as a mend keeps it."""
    van, start, team = where
    local = start.astimezone(reading.line.zone)
    return {
        "do": "put",
        "stage": stage,
        "van": van.key,
        "day": f"{local:%Y-%m-%d}",
        "at": f"{local:%H:%M}",
        "who": [person.key for person in team],
    }
