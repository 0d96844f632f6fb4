"""The sun dial of a hull as numbers for a drawing 240 wide and high, north up."""

import math
from dataclasses import dataclass

from dispatch.actions.sun_facts import SunFacts

_CENTRE, _RING = 120.0, 92.0


@dataclass(frozen=True, kw_only=True)
class Dial:
    """How the hull is turned, the sun's way along the ring, where it stands, and which panels are in shade."""

    turn_deg: float
    track: str
    sun: tuple[float, float] | None
    shaded: dict[str, bool]
    title: str


def of(facts: SunFacts) -> Dial:
    """The drawing of a hull's sun facts; a sun that is down is not drawn."""
    up = facts.elevation_deg > 0
    stands = (
        f"the sun bears {facts.azimuth_deg:03.0f}°, {facts.elevation_deg:.0f}° up"
        if up
        else "the sun is down"
    )
    points = (on_ring(azimuth) for azimuth in facts.track)
    return Dial(
        turn_deg=round(facts.heading_true_deg, 1),
        track=" ".join(f"{x},{y}" for x, y in points),
        sun=on_ring(facts.azimuth_deg) if up else None,
        shaded={side.panel: side.shaded for side in facts.sides},
        title=f"Seen from above: she heads {facts.heading_true_deg:03.0f}° true; {stands}.",
    )


def on_ring(azimuth_deg: float) -> tuple[float, float]:
    """Where a true bearing lies on the ring."""
    angle = math.radians(azimuth_deg)
    return (
        round(_CENTRE + _RING * math.sin(angle), 1),
        round(_CENTRE - _RING * math.cos(angle), 1),
    )
