"""Which panel of a hull is in the sun, and when it is in shade."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import numpy as np
import numpy.typing as npt

from dispatch.trade import sun
from dispatch.trade.sky import Site
from dispatch.trade.spans import Span, normal

Bools = npt.NDArray[np.bool_]

# Outward normals from the heading: a side is its main panel and its bow panel.
_NORMALS: Mapping[str, tuple[float, ...]] = {
    "port": (-90, -65),
    "starboard": (90, 65),
    "transom": (180,),
}
_RAIL_LOW_SUN_DEG = 10.0
PANELS = (*_NORMALS, "rail")


@dataclass(frozen=True, kw_only=True)
class Hull:
    """How a hull lies: true heading and flare in degrees."""

    heading_true_deg: float
    flare_deg: float = 12.0

    def __post_init__(self) -> None:
        if not 0 <= self.heading_true_deg < 360:
            raise ValueError(
                f"A heading lies from 0 to below 360 degrees, not {self.heading_true_deg:g}."
            )


def true_heading(reading_deg: float, declination_deg: float, reference: str) -> float:
    """The true heading of a reading; declination is east positive.

    Raises:
        ValueError: the reference is neither true nor magnetic.
    """
    if reference not in ("true", "magnetic"):
        raise ValueError(
            f"A heading is read against true or magnetic north, not {reference}."
        )
    return (reading_deg + (declination_deg if reference == "magnetic" else 0.0)) % 360


def cos_incidence(
    azimuth_deg: sun.Floats,
    elevation_deg: sun.Floats,
    normal_deg: float,
    flare_deg: float,
) -> sun.Floats:
    """Cosine between the sun and the outward normal of a panel whose top leans out by the flare."""
    el, flare = np.radians(elevation_deg), np.radians(flare_deg)
    away = np.radians(azimuth_deg - normal_deg)
    return np.asarray(
        np.cos(el) * np.cos(away) * np.cos(flare) - np.sin(el) * np.sin(flare),
        dtype=np.float64,
    )


def lit(site: Site, hull: Hull, panel: str, unix_seconds: sun.Floats) -> Bools:
    """Whether any of a panel is in the sun at each moment, clouds left out.

    A side is lit when its main or its bow panel is; the top rail, being level, when the sun
    stands 10 degrees or more above the horizon.

    Raises:
        ValueError: there is no such panel.
    """
    if panel not in PANELS:
        raise ValueError(f"There is no panel {panel}; use one of {', '.join(PANELS)}.")
    azimuth, elevation = sun.angles(site.lat, site.lon, unix_seconds)
    free = _over_horizon(site, azimuth, elevation)
    if panel == "rail":
        return free & (elevation >= _RAIL_LOW_SUN_DEG)
    faces = [
        cos_incidence(azimuth, elevation, hull.heading_true_deg + turn, hull.flare_deg)
        > 0
        for turn in _NORMALS[panel]
    ]
    return np.asarray(free & np.logical_or.reduce(faces), dtype=np.bool_)


def _over_horizon(site: Site, azimuth: sun.Floats, elevation: sun.Floats) -> Bools:
    free = elevation > 0
    for obstacle in site.obstacles:
        width = (obstacle.az_to_deg - obstacle.az_from_deg) % 360
        behind = ((azimuth - obstacle.az_from_deg) % 360 <= width) & (
            elevation < obstacle.elevation_deg
        )
        free &= ~behind
    return free


def grid(span: Span, step_minutes: int) -> sun.Floats:
    """Unix seconds from a span's start to its end by whole steps, the end left out."""
    return np.arange(span.start.timestamp(), span.end.timestamp(), step_minutes * 60.0)


def shade_spans(
    site: Site, hull: Hull, panel: str, span: Span, *, step_minutes: int = 5
) -> tuple[Span, ...]:
    """When a panel is in its own or an obstacle's shade, to a step's accuracy; night counts as shade."""
    return mask_spans(
        ~lit(site, hull, panel, grid(span, step_minutes)), span, step_minutes
    )


def mask_spans(mask: Bools, span: Span, step_minutes: int) -> tuple[Span, ...]:
    """The spans in which a mask over a span's grid holds."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], mask.astype(np.int8), [0]))))
    step, start = timedelta(minutes=step_minutes), span.start.astimezone(UTC)
    found = (
        (start + a * step, min(start + b * step, span.end))
        for a, b in edges.reshape(-1, 2).tolist()
    )
    return normal(Span(a, b) for a, b in found)


def shaded_through(site: Site, hull: Hull, panel: str, span: Span) -> bool:
    """Whether a panel stays in shade for the whole of a span, minute by minute."""
    return not bool(lit(site, hull, panel, grid(span, 1)).any())


def latest_start(
    site: Site, hull: Hull, panel: str, span: Span, slot: timedelta
) -> datetime | None:
    """The latest start of a slot that lies in shade as a whole within a span; None where there is none."""
    fitting = [
        shade
        for shade in shade_spans(site, hull, panel, span, step_minutes=1)
        if shade.length >= slot
    ]
    return fitting[-1].end - slot if fitting else None
