"""Single things that could let a stage in: one more person, van or trailer, or longer hours on a day."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from dispatch.planner.core.shapes import Given, Week
from dispatch.planner.core.skills import can
from dispatch.planner.problem import Stage
from dispatch.planner.solve.whatif import WhatIf

# Minutes that windows and duties are tried longer by, the longest first: without it the others are no use.
LONGER = (120, 60, 30)
Edit = tuple[Any, Any, Any]


@dataclass(frozen=True, kw_only=True)
class Relief:
    """One thing that is otherwise: what it says, and the cells of the arrays that say so.

    `days` are those it is for, `minutes` is how much longer something is; `owners` is False for a window, which the sky, the
    tide or a yard gives and the owner cannot.
    """

    says: str
    edits: Sequence[Edit]
    days: Sequence[int] = ()
    minutes: int = 0
    owners: bool = True
    shorter: Sequence["Relief"] = ()

    @contextmanager
    def in_force(self) -> Iterator[None]:
        """Have it so for a while."""
        was = [(cells, at, cells[at].copy()) for cells, at, _ in self.edits]
        try:
            for cells, at, value in self.edits:
                cells[at] = value
            yield
        finally:
            for cells, at, value in reversed(was):
                cells[at] = value


def reliefs(whatif: WhatIf, stages: Sequence[int]) -> Iterator[Relief]:
    """Yield what could be otherwise for these stages, day by day; the same thing once."""
    said = set[str]()
    for relief in _all(whatif, stages):
        if relief.says not in said:
            said.add(relief.says)
            yield relief


def _all(whatif: WhatIf, stages: Sequence[int]) -> Iterator[Relief]:
    """Yield what the owner can change first: trailers, people and vans, duties; windows last."""
    given = whatif.given
    for number in stages:
        yield from _trailers(given, whatif.week, whatif.facts.stages[number], number)
    days = [(number, day) for number in stages for day in _days(given, number)]
    for number, day in days:
        yield from _people(given, whatif.facts.stages[number], number, day)
        yield from _vans(given, number, day)
    for day in sorted({day for _, day in days}):
        yield from _duty(given, day)
    for number, day in days:
        yield from _windows(given, whatif.facts.stages[number].id, (number, day))


def _days(given: Given, number: int) -> list[int]:
    """Return the days on which a stage has a window still to come."""
    rows = [(day, _rows(given, number, day)) for day in range(int(given["n_days"]))]
    ends = given["windows"]["end"]
    return [d for d, (a, b) in rows if a < b and ends[b - 1] > given["now"]]


def _rows(given: Given, number: int, day: int) -> tuple[int, int]:
    """Return which rows of windows are a stage's on a day."""
    at = number * int(given["n_days"]) + day
    return int(given["window_at"][at]), int(given["window_at"][at + 1])


def _people(given: Given, stage: Stage, number: int, day: int) -> Iterator[Relief]:
    """Yield one more who holds a skill it needs, or one more who drives."""
    rows = given["needs"][slice(*given["stages"]["needs"][number])]
    for need, row in zip(stage.needs, rows, strict=True):
        level = f" at level {need.level}" if need.level > 1 else ""
        says = f"One more person with {need.skill}{level} on day {day + 1}"
        yield Relief(says=says, edits=_hand(given, day, row), days=[day])
    if not stage.needs:
        says = f"One more driver on day {day + 1}"
        yield Relief(says=says, edits=_hand(given, day, None), days=[day])


def _hand(given: Given, day: int, need: Any) -> list[Edit]:  # noqa: ANN401 - a record
    """Return the spare person on duty as long as anybody that day, at the dearest rate of those alike."""
    people, spare = given["people"], int(given["n_people"]) - 1
    others = people[:spare]
    alike = others if need is None else others[others["level"][:, need["skill"]] > 0]
    on = [int(x) for x in others["on"][:, day] if x >= 0]
    rate = max((float(r) for r in alike["rate"]), default=0.0)
    edits: list[Edit] = [(people["rate"], spare, rate)]
    if on:
        edits += [
            (people["on"], (spare, day), min(on)),
            (people["off"], (spare, day), int(others["off"][:, day].max())),
        ]
    if need is not None:
        levels = people["level"][spare].copy()
        levels[need["skill"]] = need["level"]
        edits += [
            (people["level"], spare, levels),
            (people["can"], spare, can(given, levels)),
        ]
    return edits


def _vans(given: Given, number: int, day: int) -> Iterator[Relief]:
    """Yield one more van like one that may carry the stage, out that day."""
    spare = int(given["n_vans"]) - 1
    fit = [v for v in range(spare) if given["fits"][number, v] and _out(given, v, day)]
    for like in fit[:1]:
        row = given["vans"][like].copy()
        row["twin"] = spare
        edits = [
            (given["vans"], spare, row),
            (given["fits"], (slice(None), spare), given["fits"][:, like].copy()),
        ]
        yield Relief(says=f"One more van on day {day + 1}", edits=edits, days=[day])


def _out(given: Given, van: int, day: int) -> bool:
    return bool(given["vans"]["on"][van, day] >= 0)


def _windows(given: Given, name: str, where: tuple[int, int]) -> Iterator[Relief]:
    """Yield a window of the stage that opens earlier or closes later, within the day."""
    day, (low, high) = where[1], _rows(given, *where)
    starts, ends = given["windows"]["start"], given["windows"]["end"]
    opens, closes = given["days"]["opens"][day], given["days"]["closes"][day]
    first, last = low, high - 1

    def longer(minutes: int) -> tuple[Relief, Relief]:
        words = f"{minutes} minutes on day {day + 1}"
        sooner = max(int(opens), int(starts[first]) - minutes)
        later = min(int(closes), int(ends[last]) + minutes)
        return (
            Relief(
                says=f"A window for {name} opening earlier by {words}",
                edits=[(starts, first, sooner)],
                days=[day],
                minutes=minutes,
                owners=False,
            ),
            Relief(
                says=f"A window for {name} closing later by {words}",
                edits=[(ends, last, later)],
                days=[day],
                minutes=minutes,
                owners=False,
            ),
        )

    yield from _shortened([longer(minutes) for minutes in LONGER])


def _shortened(tries: Sequence[tuple[Relief, Relief]]) -> Iterator[Relief]:
    """Yield the longest of each, the shorter ones in hand."""
    for longest, *shorter in zip(*tries, strict=True):
        yield replace(longest, shorter=tuple(reversed(shorter)))


def _duty(given: Given, day: int) -> Iterator[Relief]:
    """Yield everybody's duty, and every van's, begun earlier or ended later, within the day."""
    opens, closes = given["days"]["opens"][day], given["days"]["closes"][day]

    def longer(minutes: int) -> tuple[Relief, Relief]:
        words = f"{minutes} minutes for everybody on day {day + 1}"
        sooner: list[Edit] = []
        later: list[Edit] = []
        for table in (given["people"], given["vans"]):
            on, off = table["on"][:, day], table["off"][:, day]
            out, at = on >= 0, (slice(None), day)
            early, late = (on - minutes).clip(opens), (off + minutes).clip(max=closes)
            sooner.append((table["on"], at, np.where(out, early, on)))
            later.append((table["off"], at, np.where(out, late, off)))
        return (
            Relief(
                says=f"Duty beginning earlier by {words}",
                edits=sooner,
                days=[day],
                minutes=minutes,
            ),
            Relief(
                says=f"Duty ending later by {words}",
                edits=later,
                days=[day],
                minutes=minutes,
            ),
        )

    yield from _shortened([longer(minutes) for minutes in LONGER])


def _trailers(given: Given, week: Week, stage: Stage, number: int) -> Iterator[Relief]:
    """Yield one more trailer of each kind it needs, standing where the first of that kind stands."""
    spare = int(given["n_trailers"]) - 1
    stays = given["stays"][slice(*given["stages"]["stays"][number])]
    for need, row in zip(stage.trailers, stays, strict=True):
        of_kind = given["trailers"]["kind"][:spare] == row["kind"]
        like = given["trailers"][int(of_kind.argmax())].copy()
        edits = [
            (given["trailers"], spare, like),
            (week["chains"]["place"], (spare, 0), like["place"]),
        ]
        days = range(int(given["n_days"]))
        yield Relief(says=f"One more {need.kind}", edits=edits, days=days)
