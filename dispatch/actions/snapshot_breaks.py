"""The break of a van-day gone by: where it was planned, or wherever what happened left room for it."""

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from typing import Any

Row = dict[str, Any]
Drive = Callable[[str, str], int]
_STEP = 5


def rest_of(
    problem: Row, day: Row, drive: Drive, planned: Sequence[int] | None
) -> list[int] | None:
    """The break that the contract asks of a van-day, or None where it asks for none or has no room for one."""
    rule = problem["break"]
    if rule is None or day["back"] - day["depart"] <= rule["after_min"]:
        return None
    opens, closes = rule["windows"][day["day"]]
    starts = [planned[0]] if planned else []
    starts += range(opens, closes - rule["minutes"] + 1, _STEP)
    base = next(van["base"] for van in problem["vans"] if van["id"] == day["van"])
    gaps = list(_gaps(day, base))
    for start in starts:
        rest = [start, start + rule["minutes"]]
        if opens <= start and rest[1] <= closes and _fits(day, gaps, rest, drive):
            return rest
    return None


def taken(
    problem: Row, day: Row, drive: Drive, planned: Sequence[int] | None
) -> list[int] | None:
    """The break of a van-day still out, where its hour came or it lies in the visit under way; None where it is to come.

    ``day`` has the return that was planned: a day that was to be short has no break.
    """
    found = rest_of(problem, day, drive, planned)
    if found is None or found[1] <= problem["now"]:
        return found
    inside = any(
        stop["do"] == "visit" and stop["start"] <= found[0] and found[1] <= stop["end"]
        for stop in day["stops"]
    )
    return found if inside else None


def _gaps(day: Row, base: str) -> Iterator[tuple[str, str, int, int]]:
    """Each gap between stops and the ends of the day: from which place, to which, since when, until when."""
    points = [(base, base, day["depart"], day["depart"])]
    points += [(*stop["at"], stop["start"], stop["end"]) for stop in day["stops"]]
    points.append((base, base, day["back"], day["back"]))
    for (_, here, _, free), (there, _, start, _) in pairwise(points):
        yield here, there, free, start


def _fits(
    day: Row, gaps: Sequence[tuple[str, str, int, int]], rest: list[int], drive: Drive
) -> bool:
    inside = any(
        stop["do"] == "visit" and stop["start"] <= rest[0] and rest[1] < stop["end"]
        for stop in day["stops"]
    )
    return inside or any(
        free <= rest[0]
        and rest[1] <= start
        and max(rest[0] - free, start - rest[1]) >= drive(here, there)
        for here, there, free, start in gaps
    )
