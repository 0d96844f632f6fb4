"""The one bridge from the tables to the planner: a week as a week problem."""

from collections.abc import Iterator, Set
from typing import Any

from django.db.models import Q

from dispatch.actions import (
    clock,
    one_moment,
    rates,
    snapshot_air,
    snapshot_begun,
    snapshot_gear,
    snapshot_open,
    snapshot_over,
    snapshot_stages,
    snapshot_told,
    timeline,
    turns,
)
from dispatch.actions.errors import Refused
from dispatch.actions.snapshot_open import Open
from dispatch.actions.timeline import Timeline
from dispatch.records.models import Job, Outfit, Stage, Visit, Week, WeekPlan
from dispatch.trade.spans import Span

Problem = dict[str, Any]

_BREAK_FROM, _BREAK_TO = 660, 840
_LEAST_NOON = 60


@one_moment.held()
def of(week: Week) -> Problem:
    """The week problem of a week as the tables stand at one moment, by the contract of ``week-problem/2``.

    Of a week that stands and is under way it is what is left of it: what has left is frozen.

    Raises:
        Refused: the outfit has nobody, no van or no work to plan.
    """
    found = snapshot_open.of(week)
    return snapshot_air.kept_clear(_of(week, found), found.stages)


def _of(week: Week, found: Open) -> Problem:
    line = timeline.of(week)
    stages = list(found.stages)
    people, vans = snapshot_gear.people(line), snapshot_gear.vans(line)
    _something(people, vans, stages)
    places = snapshot_gear.places()
    asked = Job.objects.filter(stages__in=stages).distinct()
    jobs = list(
        asked.select_related("boat__place").prefetch_related(
            "boat__place__closures", "boat__place__access_hours", "boat__readings"
        )
    )
    rows = _possible(snapshot_stages.of(line, found), set(_idle_turns(line, jobs)))
    problem = {
        "format": "week-problem/2",
        "days": line.days,
        "now": max(0, line.minute(clock.now())),
        "places": [
            {"id": place.key, "lat": place.latitude, "lon": place.longitude}
            for place in places
        ],
        **snapshot_gear.trips(places),
        "people": people,
        "apart": snapshot_gear.apart({person["id"] for person in people}),
        "vans": vans,
        "trailers": snapshot_gear.trailers(line),
        "boats": [{"id": key} for key in sorted({job.boat.key for job in jobs})],
        "jobs": [_job(line, job, rows) for job in jobs],
        "stages": rows,
        "break": _break(line, people),
        "standing": None,
        "frozen": [],
    }
    within = snapshot_over.cut(
        problem, later=_later(line, stages), kept=_going(week, stages)
    )
    return snapshot_begun.laid_over(within, line, week)


def _later(line: Timeline, stages: list[Stage]) -> set[str]:
    """The stages with an appointment after the week."""
    end = line.horizon.end
    return {
        snapshot_stages.key(stage)
        for stage in stages
        if stage.fixed_start is not None and stage.fixed_start >= end
    }


def _going(week: Week, stages: list[Stage]) -> set[str]:
    """The stages that the week has visits for."""
    visits = Visit.objects.filter(van_day__plan__week=week) if week.pk else ()
    going = {visit.stage_id for visit in visits}
    return {snapshot_stages.key(stage) for stage in stages if stage.pk in going}


@one_moment.held()
def rest(week: Week, standing: WeekPlan) -> Problem:
    """What is left of a standing week, with what people have been told of it: changing that costs.

    Raises:
        Refused: the outfit has nobody, no van or no work to plan.
    """
    found = snapshot_open.of(week)
    told = snapshot_told.standing(_of(week, found), standing)
    return snapshot_air.kept_clear(told, found.stages)


def _something(people: list[Problem], vans: list[Problem], stages: list[Any]) -> None:
    if not Outfit.objects.exists():
        raise Refused("There is no outfit yet. Load the demo, or enter yours.")
    for rows, sentence in (
        (people, "The week has no people. Enter who works and their hours first."),
        (vans, "The week has no vans. Enter one first."),
        (
            stages,
            "There is no work to plan. Take a job into the book first; what stands in another week is planned there.",
        ),
    ):
        if not rows:
            raise Refused(sentence)


def _break(line: Timeline, people: list[Problem]) -> Problem:
    """The break about noon, in hours that leave nobody at work longer than may be before it or after it."""
    day = rates.day()
    rest, most = round(day.break_minutes), round(day.break_after_minutes)
    return {
        "minutes": rest,
        "after_min": most,
        "windows": [
            _noon(start, [d for p in people if (d := p["duty"][index])], rest + most)
            for index, (start, _) in enumerate(line.days)
        ],
    }


def _noon(start: int, duties: list[list[int]], reach: int) -> list[int]:
    """A day's window for the break; the usual one where duties are too long for any to reach both their ends."""
    usual = [start + _BREAK_FROM, start + _BREAK_TO]
    if not duties:
        return usual
    first = max(usual[0], max(end for _, end in duties) - reach)
    last = min(usual[1], min(begin for begin, _ in duties) + reach)
    return [first, last] if last - first >= _LEAST_NOON else usual


def _idle_turns(line: Timeline, jobs: list[Job]) -> Iterator[tuple[str, str]]:
    """Jobs whose turned way saves neither a day nor enough waiting in what is left of the week."""
    start = max(line.horizon.start, clock.now())
    if start >= line.horizon.end:
        return
    ahead = Span(start, line.horizon.end)
    untouched = Q(state=Stage.State.TO_DO, visit__isnull=True)
    for job in jobs:
        if job.stages.filter(variant=turns.TURNED).exclude(untouched).exists():
            continue
        turn = turns.of(job, ahead)
        if turn is not None and not turn.worth:
            yield job.key, turns.TURNED


def _possible(rows: list[Problem], idle: Set[tuple[str, str]]) -> list[Problem]:
    """Leave out idle ways of a job, and those that the sky forbids all week, while there is another way."""
    ways = {(row["job"], row["variant"]) for row in rows if row["variant"]}
    shut = ways & idle | {
        (row["job"], row["variant"])
        for row in rows
        if row["variant"] and not row["windows"] and not row["extra"]
    }
    left = {job for job, _ in ways - shut}
    kept = [
        row
        for row in rows
        if (row["job"], row["variant"]) not in shut or row["job"] not in left
    ]
    ids = {row["id"] for row in kept}
    return [
        row | {"after": [after for after in row["after"] if after["stage"] in ids]}
        for row in kept
    ]


def _job(line: Timeline, job: Job, rows: list[Problem]) -> Problem:
    ways = [row["variant"] for row in rows if row["job"] == job.key and row["variant"]]
    return {
        "id": job.key,
        "boat": job.boat.key,
        # Overdue, it is late from the week's first minute on.
        "promise": max(0, line.minute(job.promised_by)) if job.promised_by else None,
        "late_cents_per_hour": job.late_cents_per_hour,
        "finish_cents_per_hour": job.finish_cents_per_hour,
        "unfinished_cents": _worth(line, job),
        "variants": list(dict.fromkeys(ways)),
    }


def _worth(line: Timeline, job: Job) -> int:
    """Cents that leaving a job out costs; one that gave way before, or is overdue, is kept in before all but the dearest."""
    weights = rates.planning()
    overdue = job.promised_by is not None and job.promised_by < line.horizon.start
    gave_way = job.bumped > 0 or overdue
    least = weights.bumped_value_cents if gave_way else weights.least_value_cents
    return round(weights.value_factor * max(job.unfinished_cents, least))
