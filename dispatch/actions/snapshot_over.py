"""Jobs that need more days than a week has left: the part that this week does; the rest goes on in the next.

A job that cannot end within the week even in the best sky would cost all it is worth, and never
be begun. So only the stages that can be done by then are planned, worth their share of the job.
What must follow soon on another stage is not parted from it.
"""

from collections.abc import Iterable, Iterator, Mapping, Set
from typing import Any

from dispatch.planner.problem import lag_minutes

Row = dict[str, Any]


def cut(problem: Row, *, later: Set[str] = frozenset(), kept: Set[str]) -> Row:
    """The problem without the stages that another week must do.

    `later`: stages with an appointment after the week; `kept`: stages that already have a visit
    in it, which are never taken out.
    """
    gone: set[str] = set()
    for job in problem["jobs"]:
        rows = [row for row in problem["stages"] if row["job"] == job["id"]]
        gone |= _beyond(problem, job, rows, later) - kept
    if not gone:
        return problem
    stages = [row for row in problem["stages"] if row["id"] not in gone]
    return problem | {
        "stages": stages,
        "jobs": [_share(job, problem["stages"], gone) for job in problem["jobs"]],
    }


def _beyond(problem: Row, job: Row, rows: list[Row], later: Set[str]) -> set[str]:
    """The stages of a job that must wait for another week; none where a way of doing it ends in this one, or none could begin."""
    late = set(_late(problem, rows, later))
    ways = [
        {
            row["id"]
            for row in rows
            if row["variant"] in (None, way) and not row["extra"]
        }
        for way in job["variants"] or (None,)
    ]
    if any(not way & late for way in ways):
        return set()
    begun = {row["id"] for row in rows if not row["extra"]} - late
    return late if begun else set()


def _late(problem: Row, rows: list[Row], later: Set[str]) -> Iterator[str]:
    """Stages that cannot be done within the week in any sky, those that follow them, and what those bind."""
    ends = _ends(problem, rows, later)
    late = {row["id"] for row in rows if ends[row["id"]] is None}
    grown = True
    while grown:
        more = set(_bound(rows, late)) - late
        late |= more
        grown = bool(more)
    yield from late


def _bound(rows: Iterable[Row], late: Set[str]) -> Iterator[str]:
    """What follows a late stage, shares its van-day, or must not come long before it."""
    for row in rows:
        for after in row["after"]:
            if after["stage"] in late:
                yield row["id"]
            elif row["id"] in late and (
                after["same_van_day"] or after["max_lag"] is not None
            ):
                yield after["stage"]


def _ends(problem: Row, rows: list[Row], later: Set[str]) -> Mapping[str, int | None]:
    """The soonest minute each stage could end in any sky, None for not within the week."""
    by_id = {row["id"]: row for row in rows}
    found: dict[str, int | None] = {}

    def end(name: str) -> int | None:
        if name not in found:
            found[name] = None if name in later else _end(problem, by_id[name], end)
        return found[name]

    for name in by_id:
        end(name)
    return found


def _end(problem: Row, row: Row, end: Any) -> int | None:  # noqa: ANN401 - a function of itself
    ready = problem["now"]
    for after in row["after"]:
        before = end(after["stage"])
        wait = None if before is None else lag_minutes(_lag(after["min_lag"]), before)
        if before is None or wait is None:
            return None
        ready = max(ready, before + wait)
    return _worked(problem, min(row["minutes"].values()), ready)


def _lag(value: int | list[list[int]]) -> Any:  # noqa: ANN401 - a planner's lag
    return value if isinstance(value, int) else tuple(map(tuple, value))


def _worked(problem: Row, minutes: int, ready: int) -> int | None:
    """The soonest end of so many minutes on duty from a minute on, within one day."""
    for day in range(len(problem["days"])):
        duties = [p["duty"][day] for p in problem["people"] if p["duty"][day]]
        if not duties:
            continue
        start = max(ready, min(on for on, _ in duties))
        if start + minutes <= max(off for _, off in duties):
            return int(start + minutes)
    return None


def _share(job: Row, stages: list[Row], gone: Set[str]) -> Row:
    """A job that goes on in another week: worth the share of its work that this week can do, and due by no time in it."""
    rows = [r for r in stages if r["job"] == job["id"] and not r["extra"]]
    whole = sum(min(row["minutes"].values()) for row in rows)
    here = sum(min(row["minutes"].values()) for row in rows if row["id"] not in gone)
    if here == whole:
        return job
    return job | {
        "promise": None,
        "unfinished_cents": round(job["unfinished_cents"] * here / whole),
    }
