"""Writes a problem into the search's arrays."""

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from dispatch.planner.core import shapes
from dispatch.planner.core.shapes import FAR, Given
from dispatch.planner.core.skills import write_bits
from dispatch.planner.core.stage_rows import Names, StageRows, amounts, fit
from dispatch.planner.problem import Problem, Stage


def _lay(given: Given, name: str, rows: Sequence[Any]) -> None:
    """Write rows into a table of the record; TooLarge when it has not the room."""
    table = given[name]
    fit(name.replace("_", " "), len(rows), len(table))
    if rows:
        table[: len(rows)] = np.array(rows, table.dtype)


def encode(problem: Problem) -> Given:
    """Return the problem as one record; TooLarge names what does not fit it."""
    writer = StageRows(problem)
    names, given = writer.names, shapes.blank(shapes.GIVEN)
    _terms(given, problem)
    stages = [writer.stage(i, s) for i, s in enumerate(writer.all)]
    windows, window_at = _windows(problem, writer.all)
    jobs, order = _jobs(problem, writer)
    tables: dict[str, Sequence[Any]] = {
        "days": _days(problem),
        "stages": stages,
        "needs": writer.needs,
        "before": writer.before,
        "then": writer.then,
        "mates": writer.mates,
        "stays": writer.stays,
        "risks": writer.risks,
        "windows": windows,
        "window_at": window_at,
        "lags": writer.lags.rows,
        "steps": writer.lags.steps,
        "people": _people(problem, names),
        "vans": _vans(problem, names),
        "trailers": _trailers(problem, names),
        "jobs": jobs,
        "order": order,
        "cheapest": _cheapest(problem),
    }
    for name, rows in tables.items():
        _lay(given, name, rows)
    write_bits(given)
    _roads(given, problem)
    _apart(given, problem, names)
    _barred(given, writer)
    _fits(given, problem, writer)
    return given


def _terms(given: Given, problem: Problem) -> None:
    rest, told = problem.rest, problem.standing
    row = {
        "n_days": len(problem.days),
        "n_stages": len(problem.stages),
        "n_jobs": len(problem.jobs),
        "n_people": len(problem.people),
        "n_vans": len(problem.vans),
        "n_trailers": len(problem.trailers),
        "now": problem.now,
        "end": problem.days[-1][1],
        "rest": rest.minutes if rest else 0,
        "rest_after": rest.after_min if rest else FAR,
        "day_cents": told.day_cents if told else 0,
        "shift_cents": told.shift_cents if told else 0,
        "shift_minute": told.shift_cents_per_hour / 60 if told else 0,
        "tolerance": told.tolerance_min if told else 0,
        "told": len(told.visits) if told else 0,
        "pins": sum(s.pinned is not None for s in problem.stages.values()),
    }
    for name, value in row.items():
        given[name] = value


def _roads(given: Given, problem: Problem) -> None:
    places = len(problem.places)
    fit("places", places, shapes.PLACES)
    if places:
        given["drive"][:places, :places] = problem.drive_min
        given["metres"][:places, :places] = problem.drive_m
    bases = [van.base for van in problem.vans.values()]
    if bases:
        ways = given["drive"][bases][:, :places]
        given["near"][:places, : len(bases)] = np.argsort(ways, axis=0, kind="stable").T


def _days(problem: Problem) -> list[tuple[int, int, int, int]]:
    rest = problem.rest
    return [
        (*day, *(rest.windows[d] if rest else (0, 0)))
        for d, day in enumerate(problem.days)
    ]


def _windows(
    problem: Problem, stages: Sequence[Stage]
) -> tuple[list[tuple[int, int]], list[int]]:
    """Return each stage's windows cut to each day, and where a stage's day begins in them."""
    rows: list[tuple[int, int]] = []
    at = [0]
    for stage in stages:
        for opens, closes in problem.days:
            cut = [(max(a, opens), min(b, closes)) for a, b in sorted(stage.windows)]
            rows += [(a, b) for a, b in cut if a < b]
            at.append(len(rows))
    return rows, at


def _people(problem: Problem, names: Names) -> list[tuple[Any, ...]]:
    return [
        (
            p.cents_per_hour / 60,
            p.week_regular_min,
            int(p.driver),
            int(p.not_alone),
            *_duty(p.duty),
            _levels(names.skills, p.skills),
            0,
        )
        for p in problem.people.values()
    ]


def _levels(numbers: Mapping[str, int], skills: Mapping[str, int]) -> tuple[int, ...]:
    row = [0] * shapes.SKILLS
    for name, level in skills.items():
        if name in numbers:
            row[numbers[name]] = level
    return tuple(row)


def _duty(
    duty: Sequence[tuple[int, int] | None],
) -> tuple[tuple[int, ...], tuple[int, ...]]:
    on, off = [-1] * shapes.DAYS, [-1] * shapes.DAYS
    for d, span in enumerate(duty):
        if span is not None:
            on[d], off[d] = span
    return tuple(on), tuple(off)


def _vans(problem: Problem, names: Names) -> list[tuple[Any, ...]]:
    vans = list(problem.vans.values())
    looks = [
        (v.base, v.seats, v.tows, v.gear, tuple(sorted(v.carries.items())), v.duty)
        for v in vans
    ]
    costs = [(v.cents_per_day, v.cents_per_km) for v in vans]
    alike = [(a, b) for a, b in zip(looks, costs, strict=True)]
    return [
        (
            v.base,
            min(v.seats, shapes.SEATS),
            int(v.tows),
            float(v.cents_per_day),
            v.cents_per_km / 1000,
            alike.index(alike[i]),
            *_duty(v.duty),
            amounts(names.supplies, v.carries),
        )
        for i, v in enumerate(vans)
    ]


def _trailers(problem: Problem, names: Names) -> list[tuple[Any, ...]]:
    return [
        (
            names.kinds[t.kind],
            int(t.towed),
            t.hook_min + t.unhook_min,
            t.factor_pct,
            t.place,
        )
        for t in problem.trailers.values()
    ]


def _jobs(
    problem: Problem, writer: StageRows
) -> tuple[list[tuple[Any, ...]], list[int]]:
    rows, order = [], list[int]()
    for job in problem.jobs.values():
        first = len(order)
        order += _in_order(writer, job.id)
        rows.append(
            (
                -1 if job.promise is None else job.promise,
                job.late_cents_per_hour / 60,
                job.finish_cents_per_hour / 60,
                float(job.unfinished_cents),
                len(job.variants),
                (first, len(order)),
            )
        )
    return rows, order


def _in_order(writer: StageRows, job: str) -> list[int]:
    """Return the job's stages, each after those it waits for, extras as late as may be."""
    left = [i for i, s in enumerate(writer.all) if s.job == job]
    left.sort(key=lambda i: writer.all[i].extra)
    done: list[int] = []
    while left:
        ready = [i for i in left if not (_waits(writer, i) & set(left))]
        pick = ready[0] if ready else left[0]
        done.append(pick)
        left.remove(pick)
    return done


def _waits(writer: StageRows, i: int) -> set[int]:
    return {writer.names.stages[a.stage] for a in writer.all[i].after}


def _apart(given: Given, problem: Problem, names: Names) -> None:
    for a, b in problem.apart:
        given["apart"][names.people[a], names.people[b]] = 1
        given["apart"][names.people[b], names.people[a]] = 1


def _barred(given: Given, writer: StageRows) -> None:
    for i, stage in enumerate(writer.all):
        for person in stage.barred:
            given["barred"][i, writer.names.people[person]] = 1


def _fits(given: Given, problem: Problem, writer: StageRows) -> None:
    """Write 1 where a van could carry a stage's gear, supplies and smallest team."""
    for i, stage in enumerate(writer.all):
        for v, van in enumerate(problem.vans.values()):
            load = all(van.carries.get(k, 0) >= a for k, a in stage.supplies.items())
            pin = stage.pinned is None or stage.pinned.van == van.id
            seats = min(stage.minutes) <= van.seats
            fits = load and pin and seats and stage.gear <= van.gear
            given["fits"][i, v] = int(fits)


def _cheapest(problem: Problem) -> list[int]:
    """Return people by their rate, the cheapest first."""
    rates = [p.cents_per_hour for p in problem.people.values()]
    return sorted(range(len(rates)), key=lambda i: rates[i])
