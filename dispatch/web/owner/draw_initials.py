"""Whose hands each stretch of a strip is: initials in the band where they fit, else above it, never one over another."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from django.utils.safestring import SafeString

from dispatch.actions.board import BoatRow
from dispatch.web.owner import svg
from dispatch.web.owner.scale import Scale

_SIZE = 11.5
# Of the widest letters a page is drawn in, bold, in parts of their size.
_EM = {"I": 0.38, "J": 0.38, " ": 0.35, "M": 1.0, "W": 1.11, "m": 1.05, "w": 0.93}
_USUAL_EM = 0.85
# Inside its band; from the next; over the band it names, at least.
_INSET, _APART, _OVER = 3.0, 6.0, 2.0
_FLAG, _KNOT = (-3.0, 10.0), (-5.0, 7.0)
# What it costs to say less: the first alone, nothing where the same were named before, nothing; and to say them again soon.
_SHORT, _SILENT_AGAIN, _SILENT = 10.0, 5.0, 100.0
_SOON, _AGAIN_SOON = 30.0, 8.0

Ends = tuple[float, float]


@dataclass(frozen=True, kw_only=True)
class Run:
    """Hands of one team one after another; ``fast``: made fast where it begins."""

    team: tuple[str, ...]
    x: float
    end: float
    fast: bool = False


@dataclass(frozen=True, kw_only=True)
class Label:
    """Initials from one end to the other, inside the band or above it."""

    said: str
    x: float
    end: float
    inside: bool
    anchor: Literal["start", "middle", "end"] = "middle"


@dataclass(frozen=True, kw_only=True)
class Way:
    """Labels above the runs so far: where the last ends, and what it costs."""

    end: float
    cost: float
    row: tuple[Label, ...]


def drawn(row: BoatRow, scale: Scale, top: float, band: float) -> Iterator[SafeString]:
    """The initials of a boat's strip with its top edge at a height."""
    by = row.promise.by
    flag = scale.x(by) if by and scale.holds(by) else None
    for one in labels(list(_runs(row, scale)), flag):
        y = top + band / 2 + 4 if one.inside else top - 3
        cls = "who" if one.inside else "who-above"
        at = {"start": one.x, "end": one.end}.get(one.anchor, (one.x + one.end) / 2)
        yield svg.words(at, y, one.said, cls, one.anchor)


def wide(said: str) -> float:
    """How wide initials are at most."""
    return _SIZE * sum(_EM.get(letter, _USUAL_EM) for letter in said)


def labels(runs: Sequence[Run], flag: float | None) -> list[Label]:
    """Initials for runs in order, so that none touches another, a knot or the promise's flag at a place."""
    inside = [_inside(run) for run in runs]
    above = [run for run, label in zip(runs, inside, strict=True) if label is None]
    taken = [] if flag is None else [(flag + _FLAG[0], flag + _FLAG[1])]
    taken += [(run.x + _KNOT[0], run.x + _KNOT[1]) for run in runs if run.fast]
    return [label for label in inside if label] + _above(above, taken)


def _inside(run: Run) -> Label | None:
    said, middle = " ".join(run.team), (run.x + run.end) / 2
    half = wide(said) / 2
    if half + _INSET > (run.end - run.x) / 2:
        return None
    return Label(said=said, x=middle - half, end=middle + half, inside=True)


def _above(runs: Sequence[Run], taken: Sequence[Ends]) -> list[Label]:
    """The cheapest row of labels; of ways that end no further left than a cheaper one none is followed."""
    best: list[Way] = [Way(end=float("-inf"), cost=0.0, row=())]
    before: Run | None = None
    for run in runs:
        again = before is not None and before.team == run.team
        soon = before is not None and run.x - before.end < _SOON
        silent = _SILENT_AGAIN if again else _SILENT
        spoken = _AGAIN_SOON if again and soon else 0.0
        found = [replace(way, cost=way.cost + silent) for way in best]
        for way in best:
            told = _onwards(way, run, taken)
            found += [replace(one, cost=one.cost + spoken) for one in told]
        best, before = list(_worth_following(found)), run
    return list(min(best, key=lambda way: way.cost).row)


def _worth_following(ways: Sequence[Way]) -> Iterator[Way]:
    cheapest = float("inf")
    for way in sorted(ways, key=lambda one: (one.end, one.cost)):
        if way.cost < cheapest:
            cheapest = way.cost
            yield way


def _onwards(way: Way, run: Run, taken: Sequence[Ends]) -> Iterator[Way]:
    """A way with a run's initials after it, in full or the first with how many more: from where the run begins, over its middle, up to its end."""
    first, *others = run.team
    said = {" ".join(run.team): 0.0}
    if others:
        said[f"{first}+{len(others)}"] = _SHORT
    free_from = way.end + _APART
    for words, cost in said.items():
        size = wide(words)
        after = run.x + _KNOT[1] if run.fast else max(run.x, free_from)
        ways: tuple[tuple[Literal["start", "middle", "end"], float], ...] = (
            ("start", after),
            ("middle", (run.x + run.end - size) / 2),
            ("end", run.end - size),
        )
        for i, (anchor, x) in enumerate(ways):
            clear = all(x + size <= a or x >= b for a, b in taken)
            if clear and free_from <= x <= run.end - _OVER:
                ends = {"x": x, "end": x + size}
                label = Label(said=words, **ends, inside=False, anchor=anchor)
                row = (*way.row, label)
                yield Way(end=label.end, cost=way.cost + cost + i, row=row)


def _runs(row: BoatRow, scale: Scale) -> Iterator[Run]:
    run: Run | None = None
    for segment in row.segments:
        if segment.kind != "hands" or not segment.initials:
            continue
        x, end = scale.x(segment.span.start), scale.x(segment.span.end)
        same = run is not None and run.team == segment.initials and not segment.fast
        if run is not None and same and x - run.end < 1:
            run = Run(team=run.team, x=run.x, end=end, fast=run.fast)
            continue
        if run is not None:
            yield run
        run = Run(team=segment.initials, x=x, end=end, fast=segment.fast)
    if run is not None:
        yield run
