"""The board's rows: boats by place, places by the drive from the base."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime

from dispatch.actions import (
    board_films,
    board_left_out,
    board_sky,
    board_strips,
    closed_ways,
    facts,
    rates,
    snapshot_gear,
    stages,
)
from dispatch.actions.board import BoatRow, Lie, PlaceRows, Promise
from dispatch.actions.board_reading import Reading
from dispatch.actions.errors import Refused
from dispatch.planner.cost import finishes
from dispatch.planner.plan import read_plan
from dispatch.planner.read import read_problem
from dispatch.records.models import Job
from dispatch.trade import shade
from dispatch.trade.spans import Span, intersect

_PANELS = ("port", "starboard", "transom")


def rows(reading: Reading) -> tuple[PlaceRows, ...]:
    """Every job of the week, grouped by place in driving order from the base."""
    made = board_strips.visits(reading)
    ends = finish_moments(reading)
    choices = closed_ways.choices(reading)
    found: dict[str, list[BoatRow]] = {}
    for job in reading.jobs:
        row = replace(_row(reading, job, made[job.key], ends), ways=job.key in choices)
        found.setdefault(job.boat.place.key, []).append(row)
    drives = drives_from_base(reading)
    groups = [
        PlaceRows(
            key=key,
            name=reading.place(key),
            drive_minutes=drives.get(key, 0),
            boats=tuple(sorted(boats, key=_order)),
        )
        for key, boats in found.items()
    ]
    return tuple(sorted(groups, key=lambda group: (group.drive_minutes, group.name)))


def finish_moments(reading: Reading) -> Mapping[str, datetime]:
    """When each job that the plan ends is finished, wiped-on coats dry; jobs left short are not in it."""
    if not reading.answer:
        return {}
    problem, plan = read_problem(reading.problem), read_plan(reading.answer)
    short = {
        problem.stages[left.stage].job
        for left in plan.unplaced
        if not problem.stages[left.stage].extra
    } | set(board_left_out.goes_on(reading))
    return {
        job: reading.line.moment(minute)
        for job, minute in finishes(problem, plan).items()
        if job not in short
    }


def drives_from_base(reading: Reading) -> Mapping[str, int]:
    """Minutes of driving from the base to each place, loading not counted."""
    base = board_sky.base_of(reading)
    if base is None:
        return {}
    rows = [base, *(place for place in reading.places.values() if place != base)]
    minutes = snapshot_gear.drives(rows)["drive_min"][0]
    return dict(zip((place.key for place in rows), minutes, strict=True))


def _order(row: BoatRow) -> tuple[bool, str]:
    return (row.span is None, row.span.start.isoformat() if row.span else row.job)


def _row(
    reading: Reading,
    job: Job,
    made: list[board_strips.Visit],
    ends: Mapping[str, datetime],
) -> BoatRow:
    films = board_films.of(
        reading,
        job,
        [(v.name, v.stage, v.span.end) for v in made if not (v.done or v.held)],
    )
    held = any(visit.held for visit in made)
    way = reading.answer.get("chosen", {}).get(job.key, "")
    lie = _lie(reading, job, way)
    return BoatRow(
        job=job.key,
        boat=job.boat.name,
        kind=job.kind.name,
        customer=job.boat.customer.name,
        grade=job.grade,
        way=way,
        lie=lie,
        promise=Promise(
            kind=job.promise,
            since=job.promised_from,
            by=job.promised_by,
            finish=None if held else ends.get(job.key),
        ),
        segments=board_strips.segments(reading, made, films),
        films=films,
        shade=_shade(reading, job, lie) if job.kind.sprays else {},
        note=job.note,
    )


def _lie(reading: Reading, job: Job, way: str) -> Lie:
    turned = next(
        (
            stage.heading_true_deg
            for stage in reading.stages_of(job)
            if way == "turned" and stage.variant == way and stage.panels
        ),
        None,
    )
    return Lie(
        length_m=job.boat.length_m,
        heading_true_deg=_heading(job),
        turned_to_deg=turned,
        dark=job.boat.dark,
    )


def _heading(job: Job) -> float | None:
    """Her true heading; None where nobody has read it, or a compass reading cannot be turned into one."""
    try:
        return stages.true_heading(job)
    except Refused:
        return None


def _shade(reading: Reading, job: Job, lie: Lie) -> Mapping[str, tuple[Span, ...]]:
    heading = lie.heading_true_deg if lie.turned_to_deg is None else lie.turned_to_deg
    if heading is None:
        return {}
    place = job.boat.place
    up = board_sky.daylight(place, reading.horizon)
    site, hull = (
        facts.site(place, reading.horizon),
        shade.Hull(heading_true_deg=heading, flare_deg=rates.limits().flare_deg),
    )
    shades = shade.panel_shades(site, hull, _PANELS, reading.horizon)
    return {panel: intersect(spans, up) for panel, spans in shades.items()}
