"""Where and when a van's day begins: at its base, or where what is frozen leaves it."""

from collections.abc import Mapping
from typing import Any

from dispatch.planner.floor.shapes import Outset
from dispatch.planner.problem import Problem, Van


def outset(
    problem: Problem, van: Van, day: int, held: Mapping[str, Any] | None
) -> Outset | None:
    """Return the outset of a van-day, `held` being one under way; None when the van is off duty."""
    duty, (dawn, dusk) = van.duty[day], problem.days[day]
    if duty is None:
        return None
    since, until = max(duty[0], dawn), min(duty[1], dusk)
    if held is None:
        since = max(since, problem.now)
        return _from(
            problem, day, (since, until, van.base, van.base, 0, 0), rested=False
        )
    place, since = van.base, held["depart"]
    for stop in held["stops"]:
        since = stop["end"]
        tow = stop["do"] == "tow"
        place = (
            problem.places.index(stop["to"])
            if tow
            else problem.stages[stop["stage"]].place
        )
    rest = held["break"]
    # A break still to come is not yet taken off: too many minutes worked would be too dear.
    pause = 0 if rest is None else rest[1] - rest[0]
    gone = max(0, since - held["depart"] - pause)
    at = (since, until, place, van.base, gone, 1)
    return _from(problem, day, at, rested=rest is not None)


def _from(
    problem: Problem, day: int, at: tuple[int, int, int, int, int, int], *, rested: bool
) -> Outset | None:
    since, until, place, home, gone, idle = at
    if since > until:
        return None
    rule = problem.rest
    if rule is None:
        rest, low, high, after, rested = 0, 0, 0, 0, True
    else:
        (low, high), rest, after = rule.windows[day], rule.minutes, rule.after_min
    return Outset(
        since,
        until,
        until - since,
        place,
        home,
        gone,
        idle,
        int(rested),
        rest,
        low,
        high,
        after,
    )
