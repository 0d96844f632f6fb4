"""Minutes and metres between places, where nobody has driven it and told us."""

import math
from dataclasses import dataclass

_EARTH_RADIUS_M = 6_371_008.8


@dataclass(frozen=True, kw_only=True)
class Roads:
    """How roads compare with the great circle; defaults are assumptions to be learnt."""

    circuity: float = 1.35
    km_per_hour: float = 51.5
    start_minutes: float = 3.0


def great_circle_m(lat_a: float, lon_a: float, lat_b: float, lon_b: float) -> float:
    """Metres along the sphere of mean Earth radius (haversine), degrees in."""
    phi_a, phi_b = math.radians(lat_a), math.radians(lat_b)
    half = math.sin((phi_b - phi_a) / 2) ** 2
    half += (
        math.cos(phi_a)
        * math.cos(phi_b)
        * math.sin(math.radians(lon_b - lon_a) / 2) ** 2
    )
    return 2 * _EARTH_RADIUS_M * math.asin(math.sqrt(half))


def drive(
    lat_a: float, lon_a: float, lat_b: float, lon_b: float, roads: Roads
) -> tuple[int, int]:
    """Whole minutes and metres by road between two points; nothing for the same point."""
    straight = great_circle_m(lat_a, lon_a, lat_b, lon_b)
    if straight < 1:
        return 0, 0
    metres = roads.circuity * straight
    return math.ceil(
        metres / 1000 / roads.km_per_hour * 60 + roads.start_minutes
    ), round(metres)
