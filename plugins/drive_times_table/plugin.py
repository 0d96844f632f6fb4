"""Drives by what people have timed, else by the great circle."""

import math
from collections.abc import Mapping

from dispatch.hooks.specs import hookimpl
from dispatch.hooks.values import DrivesAnswer, DrivesAsk, Leg, Spot
from plugins.drive_times_table.pairs import Pairs, read

# Mean radius of the Earth (IUGG).
_RADIUS_M = 6_371_008.8


class DriveTimesTable:
    """The drives hook without anybody to ask."""

    def __init__(self, pairs: Pairs) -> None:
        self._pairs = pairs

    @hookimpl
    def drives(self, ask: DrivesAsk) -> DrivesAnswer:
        """Tell every drive that is asked for."""
        driven = {(leg.origin, leg.destination): leg for leg in ask.driven}
        legs = (
            driven.get((a.key, b.key)) or self._leg(ask, a, b)
            for a in ask.origins
            for b in ask.destinations
            if a.key != b.key
        )
        return DrivesAnswer(legs=tuple(legs))

    def _leg(self, ask: DrivesAsk, a: Spot, b: Spot) -> Leg:
        by_road = ask.circuity * straight_m(a, b)
        reckoned = by_road / 1000 / ask.km_per_hour * 60 + ask.start_minutes
        minutes, metres = self._pairs.get((a.key, b.key), (None, None))
        return Leg(
            origin=a.key,
            destination=b.key,
            minutes=math.ceil(reckoned) if minutes is None else minutes,
            metres=round(by_road) if metres is None else metres,
        )


def make(options: Mapping[str, object]) -> DriveTimesTable:
    """The plugin's object with its option."""
    return DriveTimesTable(read(str(options["pairs"])))


def straight_m(a: Spot, b: Spot) -> float:
    """Metres along a great circle (haversine)."""
    phi_a, phi_b = math.radians(a.latitude), math.radians(b.latitude)
    across = math.radians(b.longitude - a.longitude)
    half = math.sin((phi_b - phi_a) / 2) ** 2
    half += math.cos(phi_a) * math.cos(phi_b) * math.sin(across / 2) ** 2
    return 2 * _RADIUS_M * math.asin(min(1.0, math.sqrt(half)))
