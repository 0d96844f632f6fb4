"""How long a visit waits with idle hands: between its coats, while she dries, while a fill kicks; by the hull's warmth.

A week has one length for each visit, so its waits are planned by her hull in the hours in which the sky lets it be done:
long enough in so many of them as the setting says. Where it was put at a colder hour, the board tells how much longer it
waits; the spare kept before a wall takes that up.
"""

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import timedelta
from typing import Any

from dispatch.actions import rates
from dispatch.records.models import Stage
from dispatch.trade import cure, waiting
from dispatch.trade.labour import Step
from dispatch.trade.spans import Span

_ROUND_MINUTES = 5
_LEAST = timedelta(minutes=5)


def kept(step: Step) -> dict[str, object]:
    """What a stage has to keep of a step for its waits to be worked out later."""
    values = {
        "crew_max": step.crew_max,
        "clock_minutes": step.clock_minutes,
        "hold_minutes": step.hold_minutes,
        "hold_ref_minutes": step.hold_ref_minutes,
        "meanwhile": step.meanwhile,
    }
    return {name: value for name, value in values.items() if value}


def minutes(stage: Stage, hull_c: float, *, hot: bool = False) -> dict[str, int]:
    """A stage's minutes on site by team size on a hull of a temperature, what it waits counted."""
    waits = of(stage, hull_c, hot=hot)
    return {size: own + waits[size] for size, own in stage.minutes.items()}


def of(stage: Stage, hull_c: float, *, hot: bool = False) -> dict[str, int]:
    """Minutes a stage waits by team size on a hull of a temperature, and rests in the heat, rounded up to 5.

    While a team waits it rests, so only the longer of the two counts.
    """
    flashes = stage.flashes * flash(stage, hull_c)
    found = {}
    for size, hands in stage.minutes.items():
        waits = flashes + idle(stage, int(size), hull_c)
        rests = waiting.rest_minutes(hands) if hot else 0.0
        found[size] = _rounded(max(waits, rests))
    return found


def when(stage: Stage, spans: Iterable[Span]) -> tuple[Span, ...]:
    """The parts of the spans a visit may lie in after which it may wait between coats: half of its hands are done by then."""
    first = timedelta(minutes=min(stage.minutes.values()) / 2 if stage.flashes else 0)
    return tuple(
        Span(min(one.start + first, one.end - _LEAST), one.end) for one in spans
    )


def warmth_matters(stage: Stage) -> bool:
    """Whether a stage waits longer on a colder hull."""
    return bool(stage.flashes) or any(step.hold_ref_minutes for _, step in steps(stage))


def flash(stage: Stage, hull_c: float) -> float:
    """Minutes between two coats by the sheet; 0 where none is laid."""
    if stage.sheet is None or not stage.flashes:
        return 0.0
    return cure.flash_minutes(stage.sheet.flash_ref_minutes, hull_c)


def level(stage: Stage, hull_c: float) -> float:
    """Minutes in which the last coat levels, while the shade has to last; 0 where none is laid in coats."""
    if stage.sheet is None or not stage.flashes:
        return 0.0
    return cure.level_minutes(stage.sheet.flash_ref_minutes, hull_c)


def idle(stage: Stage, team: int, hull_c: float) -> float:
    """Minutes in which a team can do nothing but wait for the hull to dry or a fill to kick."""
    own = [step for _, step in steps(stage)]
    return waiting.waits(own, team, rates.labour_rates(), hull_c).idle_minutes


def left(stage: Stage) -> int:
    """Minutes she still dries when the last step is done, by the quickest team: the next visit waits for it.

    A fill that kicks has its own wait, by the cure clock.
    """
    dries = [replace(step, hold_ref_minutes=0.0) for _, step in steps(stage)]
    team = max(map(int, stage.minutes), default=1)
    found = waiting.waits(dries, team, rates.labour_rates(), cure.REFERENCE_C)
    return _rounded(found.left_minutes)


def steps(stage: Stage) -> Iterator[tuple[str, Step]]:
    """A stage's steps as they were when it was listed, each with its name."""
    for row in stage.steps:
        yield str(row["name"]), _step(row)


def _step(row: Mapping[str, Any]) -> Step:
    return Step(
        labour_minutes=float(row["labour_minutes"]),
        crew_max=int(row.get("crew_max", 3)),
        clock_minutes=float(row.get("clock_minutes", 0)),
        hold_minutes=float(row.get("hold_minutes", 0)),
        hold_ref_minutes=float(row.get("hold_ref_minutes", 0)),
        meanwhile=bool(row.get("meanwhile", False)),
    )


def _rounded(minutes: float) -> int:
    return math.ceil(round(minutes, 3) / _ROUND_MINUTES) * _ROUND_MINUTES
