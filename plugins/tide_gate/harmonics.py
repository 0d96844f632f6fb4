"""The height of the tide by harmonic constants.

h(t) = Z0 + sum f H cos(V + u - g): H and g are a station's amplitude and phase lag on Greenwich, V the
equilibrium argument, f and u the corrections for the moon's node. Mean longitudes by Meeus, Astronomical Algorithms,
chapters 25 and 47; node corrections by the series of Doodson, as printed in Pugh, Tides, Surges and Mean Sea-Level,
table 4:3.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from math import cos, radians, sin

_J2000 = datetime(2000, 1, 1, 12, tzinfo=UTC)
_CENTURY_S = 36525 * 86400.0


@dataclass(frozen=True, kw_only=True)
class Kind:
    """A constituent: its Doodson numbers on hour angle T, s, h, p and perihelion, a phase in degrees, and its node series."""

    doodson: tuple[int, int, int, int, int]
    phase_deg: float = 0.0
    node: str = ""
    times: int = 1


@dataclass(frozen=True, kw_only=True)
class Constant:
    """What a station has of a constituent: amplitude in metres, phase lag on Greenwich in degrees."""

    name: str
    amplitude_m: float
    lag_deg: float


# T is the hour angle of the mean sun at Greenwich, 0 at noon.
KINDS: Mapping[str, Kind] = {
    "SA": Kind(doodson=(0, 0, 1, 0, 0)),
    "SSA": Kind(doodson=(0, 0, 2, 0, 0)),
    "MM": Kind(doodson=(0, 1, 0, -1, 0), node="MM"),
    "MF": Kind(doodson=(0, 2, 0, 0, 0), node="MF"),
    "2Q1": Kind(doodson=(1, -4, 1, 2, 0), phase_deg=90, node="O1"),
    "Q1": Kind(doodson=(1, -3, 1, 1, 0), phase_deg=90, node="O1"),
    "RHO": Kind(doodson=(1, -3, 3, -1, 0), phase_deg=90, node="O1"),
    "O1": Kind(doodson=(1, -2, 1, 0, 0), phase_deg=90, node="O1"),
    "P1": Kind(doodson=(1, 0, -1, 0, 0), phase_deg=90),
    "S1": Kind(doodson=(1, 0, 0, 0, 0)),
    "K1": Kind(doodson=(1, 0, 1, 0, 0), phase_deg=-90, node="K1"),
    "J1": Kind(doodson=(1, 1, 1, -1, 0), phase_deg=-90, node="J1"),
    "OO1": Kind(doodson=(1, 2, 1, 0, 0), phase_deg=-90, node="OO1"),
    "2N2": Kind(doodson=(2, -4, 2, 2, 0), node="M2"),
    "MU2": Kind(doodson=(2, -4, 4, 0, 0), node="M2"),
    "N2": Kind(doodson=(2, -3, 2, 1, 0), node="M2"),
    "NU2": Kind(doodson=(2, -3, 4, -1, 0), node="M2"),
    "M2": Kind(doodson=(2, -2, 2, 0, 0), node="M2"),
    "LAM2": Kind(doodson=(2, -1, 0, 1, 0), phase_deg=180, node="M2"),
    "T2": Kind(doodson=(2, 0, -1, 0, 1)),
    "S2": Kind(doodson=(2, 0, 0, 0, 0)),
    "K2": Kind(doodson=(2, 0, 2, 0, 0), node="K2"),
    "MN4": Kind(doodson=(4, -5, 4, 1, 0), node="M2", times=2),
    "M4": Kind(doodson=(4, -4, 4, 0, 0), node="M2", times=2),
    "MS4": Kind(doodson=(4, -2, 2, 0, 0), node="M2"),
    "S4": Kind(doodson=(4, 0, 0, 0, 0)),
    "M6": Kind(doodson=(6, -6, 6, 0, 0), node="M2", times=3),
    "M8": Kind(doodson=(8, -8, 8, 0, 0), node="M2", times=4),
}
# node series -> f as cosines of 0, N, 2N, 3N and u in degrees as sines of N, 2N, 3N
_NODES: Mapping[str, tuple[tuple[float, ...], tuple[float, ...]]] = {
    "MM": ((1.0, -0.1300, 0.0013, 0.0), (0.0, 0.0, 0.0)),
    "MF": ((1.0429, 0.4135, -0.0040, 0.0), (-23.74, 2.68, -0.38)),
    "O1": ((1.0089, 0.1871, -0.0147, 0.0014), (10.80, -1.34, 0.19)),
    "K1": ((1.0060, 0.1150, -0.0088, 0.0006), (-8.86, 0.68, -0.07)),
    "J1": ((1.0129, 0.1676, -0.0170, 0.0016), (-12.94, 1.34, -0.19)),
    "OO1": ((1.1027, 0.6504, 0.0317, -0.0014), (-36.68, 4.02, -0.57)),
    "M2": ((1.0004, -0.0373, 0.0002, 0.0), (-2.14, 0.0, 0.0)),
    "K2": ((1.0241, 0.2863, 0.0083, -0.0015), (-17.74, 0.68, -0.04)),
}


def height_m(constants: Sequence[Constant], mean_m: float, at: datetime) -> float:
    """The height at a moment in metres, above whatever ``mean_m`` is told above.

    Raises:
        KeyError: a constituent is none of ``KINDS``.
    """
    angles, node = _angles(at)
    return mean_m + sum(_part(one, angles, node) for one in constants)


def _part(one: Constant, angles: Sequence[float], node: float) -> float:
    kind = KINDS[one.name]
    argument = kind.phase_deg + sum(
        n * angle for n, angle in zip(kind.doodson, angles, strict=True)
    )
    factor, shift = _node(kind, node)
    return factor * one.amplitude_m * cos(radians(argument + shift - one.lag_deg))


def _node(kind: Kind, node: float) -> tuple[float, float]:
    """Factor and shift (degrees) by the longitude of the moon's node."""
    if not kind.node:
        return 1.0, 0.0
    cosines, sines = _NODES[kind.node]
    factor = sum(part * cos(radians(n * node)) for n, part in enumerate(cosines))
    shift = sum(part * sin(radians(n * node)) for n, part in enumerate(sines, start=1))
    return factor**kind.times, shift * kind.times


def _angles(at: datetime) -> tuple[tuple[float, ...], float]:
    """Hour angle of the mean sun; mean longitudes of moon, sun, moon's and sun's perigee; the node's longitude."""
    utc = at.astimezone(UTC)
    t = (utc - _J2000).total_seconds() / _CENTURY_S
    hour = utc.hour + utc.minute / 60 + utc.second / 3600
    moon = 218.3164477 + 481267.88123421 * t - 0.0015786 * t * t
    sun = 280.46646 + 36000.76983 * t + 0.0003032 * t * t
    perigee = 83.3532465 + 4069.0137287 * t - 0.0103200 * t * t
    perihelion = 282.93735 + 1.71946 * t + 0.00046 * t * t
    node = 125.0445479 - 1934.1362891 * t + 0.0020754 * t * t
    return (15.0 * hour + 180.0, moon, sun, perigee, perihelion), node
