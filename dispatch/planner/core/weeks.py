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
    week["chains"]["route"] = -1
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
    jobs = list(problem.jobs.values())
    return Plan(
        van_days=tuple(
            _van_day(problem, week, r)
            for r in range(int(week["n_routes"]))
            if week["routes"][r]["count"] > 0 or week["routes"][r]["lock"] > 0
        ),
        chosen={
            job.id: job.variants[week["chosen"][j]]
            for j, job in enumerate(jobs)
            if job.variants
        },
    )


def _van_day(problem: Problem, week: Week, r: int) -> VanDay:
    route, vans = week["routes"][r], list(problem.vans)
    people, rest = list(problem.people), problem.rest
    begins = int(route["rest"])
    minutes = rest.minutes if rest else 0
    return VanDay(
        van=vans[r % len(vans)],
        day=r // len(vans),
        team=tuple(people[m] for m in sorted(route["team"][: route["size"]])),
        depart=int(route["depart"]),
        back=int(route["back"]),
        rest=(begins, begins + minutes) if begins >= 0 else None,
        stops=tuple(_stop(problem, week, route, i) for i in range(route["count"])),
    )


def _stop(problem: Problem, week: Week, route: np.void, i: int) -> Visit | Tow:
    stop, start, end = (int(route[k][i]) for k in ("stop", "start", "end"))
    if stop >= 0:
        return Visit(stage=list(problem.stages)[stop], start=start, end=end)
    trailer, number = divmod(-1 - stop, CHAIN)
    places = week["chains"][trailer]["place"]
    return Tow(
        trailer=list(problem.trailers)[trailer],
        origin=problem.places[places[number - 1]],
        to=problem.places[places[number]],
        start=start,
        end=end,
    )
