"""Two-part and whoever works beside it: kept apart in a week problem, as the house's rules judge them on the plan.

The contract has no such rule. It has equipment that never stands by two boats at once: for each boat that two-part is
laid on and each boat beside her the problem has one clear air, which stands at their place and which the visits of
both need, the two-part one till people may come near again. What the owner has put side by side stays so.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from dispatch.actions import rates
from dispatch.actions.snapshot_stages import key
from dispatch.records.models import Boat, Sheet, Stage

Row = dict[str, Any]
# How its kind and its name begin.
PREFIX = "clear-air:"
# The most kinds that one visit may need, and the most pieces one problem may have, by the planner's shapes.
_MOST_KINDS, _MOST_PIECES = 4, 64


def kept_clear(problem: Row, stages: Iterable[Stage]) -> Row:
    """The problem in which nobody works beside two-part while it is laid, nor before people may come near again."""
    laid = {key(stage) for stage in stages if _two_part(stage)}
    week = _Beside(problem, laid & {row["id"] for row in problem["stages"]})
    for one, other in week.pairs():
        week.keep_apart(one, other)
    return problem | {
        "stages": [week.stage(row) for row in problem["stages"]],
        "trailers": [*problem["trailers"], *week.pieces],
    }


def without(problem: Row) -> Row:
    """The problem as it was before: for what the owner decides by hand, which is judged before it is posted."""
    return problem | {
        "stages": [
            row | {"trailers": [t for t in row["trailers"] if _is_real(t["kind"])]}
            for row in problem["stages"]
        ],
        "trailers": real(problem["trailers"]),
    }


def real(trailers: Iterable[Mapping[str, Any]]) -> list[Row]:
    """The equipment of a problem that the outfit has."""
    return [dict(row) for row in trailers if _is_real(row["id"])]


def names(trailers: Iterable[Mapping[str, Any]]) -> dict[str, str]:
    """What a sentence of the planner says of clear air, and what a person reads instead."""
    kinds = [row["id"] for row in trailers if not _is_real(row["id"])]
    called = dict(Boat.objects.values_list("key", "name")) if kinds else {}
    found = {}
    for kind in kinds:
        wet, beside = (called.get(one, one) for one in kind.split(":")[1:3])
        found[f"One more {kind}"] = (
            f"Leave to work on {beside} beside the two-part of {wet}"
        )
        found[kind] = f"air clear of the two-part of {wet}"
    return found


def _is_real(name: str) -> bool:
    return not name.startswith(PREFIX)


def _two_part(stage: Stage) -> bool:
    return (
        stage.family == "spray"
        and stage.sheet is not None
        and stage.sheet.kind == Sheet.Kind.TWO_PART
    )


class _Beside:
    """One problem's boats at one place with two-part, and what is added to keep them apart."""

    def __init__(self, problem: Row, laid: set[str]) -> None:
        self._laid, self._problem = laid, problem
        boats = {job["id"]: job["boat"] for job in problem["jobs"]}
        self._boat = {row["id"]: boats[row["job"]] for row in problem["stages"]}
        self._fixed = dict(_fixed(problem))
        self._more: dict[str, list[Row]] = {}
        self.pieces: list[Row] = []

    def pairs(self) -> Iterator[tuple[list[Row], list[Row]]]:
        """Visits with two-part of one boat, and those without of each other boat at the place."""
        groups: dict[tuple[str, str, bool], list[Row]] = {}
        for row in self._problem["stages"]:
            wet = row["id"] in self._laid
            groups.setdefault((row["place"], self._boat[row["id"]], wet), []).append(
                row
            )
        for (place, boat, wet), rows in groups.items():
            for (where, other, other_wet), beside in groups.items():
                if wet and not other_wet and place == where and boat != other:
                    yield rows, beside

    def keep_apart(self, wet: Sequence[Row], beside: Sequence[Row]) -> None:
        """Give both a clear air of their own, unless they stand side by side already or have no room for one."""
        full = len(self._problem["trailers"]) + len(self.pieces) >= _MOST_PIECES
        rows = (*wet, *beside)
        if full or self._side_by_side(wet, beside) or not all(map(self._room, rows)):
            return
        kind = f"{PREFIX}{self._boat[wet[0]['id']]}:{self._boat[beside[0]['id']]}"
        self.pieces.append(_piece(kind, wet[0]["place"]))
        for row in rows:
            is_wet = row["id"] in self._laid
            stays = round(rates.shifts().reentry_minutes) if is_wet else 0
            need = {"kind": kind, "stays_min": stays}
            self._more.setdefault(row["id"], []).append(need)

    def stage(self, row: Row) -> Row:
        """A stage with what it needs besides; on the same boat what follows waits till people may come near again."""
        more = self._more.get(row["id"], [])
        after = row["after"]
        if row["id"] not in self._laid:
            after = [self._waits(link) for link in after]
        return row | {"trailers": [*row["trailers"], *more], "after": after}

    def _waits(self, link: Row) -> Row:
        if link["stage"] not in self._laid:
            return link
        again, lag = round(rates.shifts().reentry_minutes), link["min_lag"]
        if isinstance(lag, int):
            return link | {"min_lag": max(lag, again)}
        table = [[since, until, max(wait, again)] for since, until, wait in lag]
        return link | {"min_lag": table}

    def _room(self, row: Row) -> bool:
        return len(row["trailers"]) + len(self._more.get(row["id"], ())) < _MOST_KINDS

    def _side_by_side(self, wet: Sequence[Row], beside: Sequence[Row]) -> bool:
        spans = [self._fixed[row["id"]] for row in beside if row["id"] in self._fixed]
        again = round(rates.shifts().reentry_minutes)
        return any(
            start < until + again and since < end
            for row in wet
            if row["id"] in self._fixed
            for since, until in (self._fixed[row["id"]],)
            for start, end in spans
        )


def _fixed(problem: Row) -> Iterator[tuple[str, tuple[int, int]]]:
    """When visits are that people were told of, that are made fast, or that have left."""
    told = (problem["standing"] or {"visits": ()})["visits"]
    starts = {row["stage"]: row["start"] for row in told}
    for row in problem["stages"]:
        start = row["pinned"]["start"] if row["pinned"] else starts.get(row["id"])
        if start is not None:
            yield row["id"], (start, start + max(row["minutes"].values()))
    for day in problem["frozen"]:
        for stop in day["stops"]:
            if stop["do"] == "visit":
                yield stop["stage"], (stop["start"], stop["end"])


def _piece(kind: str, place: str) -> Row:
    return {
        "id": kind,
        "kind": kind,
        "place": place,
        "towed": True,
        "hook_min": 0,
        "unhook_min": 0,
        "factor_pct": 100,
    }
