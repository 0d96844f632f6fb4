"""Refuses a problem whose parts do not fit each other, with one clear sentence."""

from collections.abc import Iterable, Mapping
from typing import Any

from dispatch.planner.around import when
from dispatch.planner.problem import InvalidProblem, Problem, Stage


def check(problem: Problem) -> None:
    """Raise InvalidProblem when a name is unknown or a chain of stages never begins."""
    for stage in problem.stages.values():
        _stage(problem, stage)
    for pair in problem.apart:
        _known(pair, problem.people, "The list of people kept apart", "person")
    told = problem.standing.visits if problem.standing else ()
    _known(told, problem.stages, "The standing week", "stage")
    _held(problem)
    _no_circle(problem)


def _known(names: Iterable[str], known: Iterable[str], who: str, what: str) -> None:
    for name in names:
        if name not in known:
            raise InvalidProblem(
                f"{who} names the {what} {name!r}, which the problem does not list."
            )


def _stage(problem: Problem, stage: Stage) -> None:
    who = f"Stage {stage.id}"
    _known([stage.job], problem.jobs, who, "job")
    _known([a.stage for a in stage.after], problem.stages, who, "stage")
    _known(stage.barred, problem.people, who, "person")
    if stage.variant is not None:
        _known([stage.variant], problem.jobs[stage.job].variants, who, "variant")
    if not stage.minutes or min(stage.minutes) < 1:
        raise InvalidProblem(
            f"{who} must give its minutes for at least one team size, from 1 up."
        )
    if stage.pinned is not None:
        _known([stage.pinned.van], problem.vans, f"{who}'s pin", "van")
        _pin(problem, stage, stage.pinned.van, stage.pinned.start)


def _pin(problem: Problem, stage: Stage, van_id: str, start: int) -> None:
    """Refuse a pin that breaks a rule whatever else the week holds."""
    van, day = problem.vans[van_id], problem.day_of(start)
    who = f"Stage {stage.id} is pinned to van {van_id} at {when(problem, start)}, but"
    if day is None:
        raise InvalidProblem(f"{who} no day of the week holds that minute.")
    if not stage.gear <= van.gear:
        lacks = ", ".join(sorted(stage.gear - van.gear))
        raise InvalidProblem(f"{who} that van does not carry {lacks}.")
    quickest = min(stage.minutes.values())
    if not any(s <= start and start + quickest <= e for s, e in stage.windows):
        raise InvalidProblem(
            f"{who} no window holds the {quickest} minutes from there; move or lift the pin."
        )
    if van.duty[day] is None:
        raise InvalidProblem(f"{who} that van is off the road that day.")


def _held(problem: Problem) -> None:
    """Refuse van-days, frozen or told, that name what there is not, and one frozen twice."""
    for row in problem.standing.van_days if problem.standing else ():
        _van_day(problem, row, f"The told day {row['day']} of van {row['van']}")
    seen = set()
    for row in problem.frozen:
        who = f"The frozen day {row['day']} of van {row['van']}"
        _van_day(problem, row, who)
        if (row["van"], row["day"]) in seen:
            raise InvalidProblem(f"{who} is listed twice; list it once.")
        seen.add((row["van"], row["day"]))


def _van_day(problem: Problem, row: Mapping[str, Any], who: str) -> None:
    _known([row["van"]], problem.vans, who, "van")
    _known(row["team"], problem.people, who, "person")
    if row["day"] not in range(len(problem.days)):
        raise InvalidProblem(
            f"{who} is no day of this week of {len(problem.days)} days."
        )
    for stop in row["stops"]:
        if stop["do"] == "visit":
            _known([stop["stage"]], problem.stages, who, "stage")
        else:
            _known([stop["trailer"]], problem.trailers, who, "trailer")
            _known([stop["from"], stop["to"]], problem.places, who, "place")


def _no_circle(problem: Problem) -> None:
    """Peel off stages that wait for nothing left; what stays goes round in a circle."""
    waits = {s.id: {a.stage for a in s.after} for s in problem.stages.values()}
    while free := [name for name, before in waits.items() if not before]:
        for name in free:
            del waits[name]
        gone = set(free)
        for before in waits.values():
            before.difference_update(gone)
    if waits:
        names = ", ".join(sorted(waits)[:5])
        raise InvalidProblem(
            f"These stages wait for one another in a circle: {names}; take one wait away."
        )
