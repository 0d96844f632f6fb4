"""Makes empty weeks, and hands a week over as a plan."""

import numpy as np

from dispatch.planner.core import shapes
from dispatch.planner.core.shapes import CHAIN, Given, Week
from dispatch.planner.plan import Plan, Tow, VanDay, Visit
from dispatch.planner.problem import Problem


def empty_week(given: Given, seed: int) -> Week:
    """Return a week with nothing in it; trailers stand where they stood."""
    week = shapes.blank(shapes.WEEK)
    for name in ("stages", "trailers", "people", "days", "jobs"):
        week["n_" + name] = given["n_" + name]
    week["n_routes"] = given["n_days"] * given["n_vans"]
    week["routes"]["rest"] = week["routes"]["taken"] = -1
    week["seen"]["route"] = -1
    week["chains"]["count"] = 1
    week["chains"]["place"][:, 0] = given["trailers"]["place"]
    for name in ("route", "prior", "next"):
        week["chains"][name] = -1
    week["dice"][0] = seed
    return week


def twin_of(week: Week, seed: int) -> Week:
    """Return a copy with dice of its own."""
    row = np.zeros(1, shapes.WEEK)
    row[0] = week
    row[0]["dice"][0] = seed
    return row[0]


def to_plan(problem: Problem, week: Week) -> Plan:
    """Return the plan: van-days by day and van, and chosen variants."""
    names = _Names(problem)
    jobs = list(problem.jobs.values())
    return Plan(
        van_days=tuple(
            _van_day(names, week, r)
            for r in range(int(week["n_routes"]))
            if week["routes"][r]["count"] > 0 or week["routes"][r]["lock"] > 0
        ),
        chosen={
            job.id: job.variants[week["chosen"][j]]
            for j, job in enumerate(jobs)
            if job.variants
        },
    )


class _Names:
    """What the numbers of a week stand for."""

    def __init__(self, problem: Problem) -> None:
        self.vans, self.people = list(problem.vans), list(problem.people)
        self.stages, self.trailers = list(problem.stages), list(problem.trailers)
        self.places = problem.places
        self.rest = problem.rest.minutes if problem.rest else 0


def _van_day(names: _Names, week: Week, r: int) -> VanDay:
    route = week["routes"][r]
    count, begins = int(route["count"]), int(route["rest"])
    times = (route[k][:count].tolist() for k in ("stop", "start", "end"))
    return VanDay(
        van=names.vans[r % len(names.vans)],
        day=r // len(names.vans),
        team=tuple(names.people[m] for m in sorted(route["team"][: route["size"]])),
        depart=int(route["depart"]),
        back=int(route["back"]),
        rest=(begins, begins + names.rest) if begins >= 0 else None,
        stops=tuple(_stop(names, week, *row) for row in zip(*times, strict=True)),
    )


def _stop(names: _Names, week: Week, stop: int, start: int, end: int) -> Visit | Tow:
    if stop >= 0:
        return Visit(stage=names.stages[stop], start=start, end=end)
    trailer, number = divmod(-1 - stop, CHAIN)
    chain = week["chains"][trailer]
    places = chain["place"]
    return Tow(
        trailer=names.trailers[trailer],
        origin=names.places[places[chain["prior"][number]]],
        to=names.places[places[number]],
        start=start,
        end=end,
    )
