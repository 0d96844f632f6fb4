"""Labour-minutes of a step by length, shape and access, and the clock minutes a team takes."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

_SHAPES = MappingProxyType(
    {
        "skiff": 0.90,
        "centre-console": 1.00,
        "cuddy": 1.10,
        "sail": 1.15,
        "cabin": 1.25,
        "lapstrake": 1.35,
    }
)


@dataclass(frozen=True, kw_only=True)
class Rates:
    """The outfit's factors; the defaults are assumptions to be learnt from real minutes.

    Four jobs in five keep to their estimate times ``late_first``, or ``late_returning`` where the boat is known.
    """

    long_boat_ft: float = 24.0
    long_boat_power: float = 0.4
    shapes: Mapping[str, float] = field(default_factory=lambda: _SHAPES)
    generator: float = 1.05
    no_water: float = 1.10
    float_work: float = 1.30
    worth_of_third: float = 0.92
    worth_of_fourth: float = 0.82
    late_first: float = 1.25
    late_returning: float = 1.12


@dataclass(frozen=True, kw_only=True)
class Step:
    """One step of a visit: labour-minutes, how many can work on it, and minutes no hands can shorten.

    After it the boat is left for ``hold_minutes`` and ``hold_ref_minutes`` at 70 F, by all but what may be done
    ``meanwhile``.
    """

    labour_minutes: float
    crew_min: int = 1
    crew_max: int = 3
    clock_minutes: float = 0.0
    hold_minutes: float = 0.0
    hold_ref_minutes: float = 0.0
    meanwhile: bool = False


def length_factor(length_ft: float, rates: Rates) -> float:
    """How much dearer a foot of a long boat is: 1 up to 24 ft, then (L/24)^0.4."""
    return float(max(1.0, length_ft / rates.long_boat_ft) ** rates.long_boat_power)


def access_factor(*, water: bool, power: bool, afloat: bool, rates: Rates) -> float:
    """The factor of a place: the dearest of its lacks, for they slow the same hands."""
    lacks = [1.0]
    lacks += [] if power else [rates.generator]
    lacks += [] if water else [rates.no_water]
    lacks += [rates.float_work] if afloat else []
    return max(lacks)


def labour_minutes(
    *, fixed: float, per_ft: float, length_ft: float, factor: float
) -> float:
    """Labour-minutes of a step: fixed + rate x length x factor (length, shape and access multiplied)."""
    return fixed + per_ft * length_ft * factor


def worth(team: int, rates: Rates) -> float:
    """Hands that a team is worth: each of the third and fourth pair helps a little less.

    Raises:
        ValueError: nobody is in it.
    """
    if team < 1:
        raise ValueError(f"A team has 1 person or more, not {team}.")
    share = (1.0, 1.0, rates.worth_of_third, rates.worth_of_fourth)[min(team, 4) - 1]
    return min(team, 4) * share


def clock_minutes(steps: tuple[Step, ...], team: int, rates: Rates) -> float:
    """Minutes by the clock for steps done one after another by a team.

    Raises:
        ValueError: the team is smaller than a step needs.
    """
    smallest = max((step.crew_min for step in steps), default=1)
    if team < smallest:
        raise ValueError(f"A team of {team} is too small: the work needs {smallest}.")
    return sum(
        step.clock_minutes
        + step.labour_minutes / worth(min(team, step.crew_max), rates)
        for step in steps
    )
