"""Which panel of a hull is in the sun, and when it is in shade."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import numpy as np
import numpy.typing as npt

from dispatch.trade import sun
from dispatch.trade.sky import Site
from dispatch.trade.spans import Span

Bools = npt.NDArray[np.bool_]

# Outward normals from the heading: a side is its main panel and its bow panel.
_NORMALS: Mapping[str, tuple[float, ...]] = {
    "port": (-90, -65),
    "starboard": (90, 65),
    "transom": (180,),
}
_RAIL_LOW_SUN = np.sin(np.radians(10.0))
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
    turned = reading_deg + (declination_deg if reference == "magnetic" else 0.0)
    # Twice: a hair below 0 comes out as 360 itself.
    return turned % 360 % 360


def cos_incidence(
    azimuth_deg: sun.Floats,
    elevation_deg: sun.Floats,
    normal_deg: float,
    flare_deg: float,
) -> sun.Floats:
    """Cosine between the sun and the outward normal of a panel whose top leans out by the flare."""
    azimuth, elevation = np.radians(azimuth_deg), np.radians(elevation_deg)
    level = np.cos(elevation)
    way = sun.Toward(
        east=level * np.sin(azimuth),
        north=level * np.cos(azimuth),
        up=np.sin(elevation),
    )
    return _cosine(way, normal_deg, flare_deg)


def _cosine(way: sun.Toward, normal_deg: float, flare_deg: float) -> sun.Floats:
    normal, flare = np.radians(normal_deg), np.radians(flare_deg)
    east, north = np.sin(normal) * np.cos(flare), np.cos(normal) * np.cos(flare)
    return np.asarray(
        way.east * east + way.north * north - way.up * np.sin(flare), dtype=np.float64
    )


def lit(site: Site, hull: Hull, panel: str, unix_seconds: sun.Floats) -> Bools:
    """Whether any of a panel is in the sun at each moment, clouds left out.

    A side is lit when its main or its bow panel is; the top rail, being level, when the sun
    stands 10 degrees or more above the horizon.

    Raises:
        ValueError: there is no such panel.
    """
    return lit_panels(site, hull, (panel,), unix_seconds)[panel]


def lit_panels(
    site: Site, hull: Hull, panels: Iterable[str], unix_seconds: sun.Floats
) -> dict[str, Bools]:
    """The same for several panels; the sun is worked out once.

    Raises:
        ValueError: there is no such panel.
    """
    way = sun.toward(site.lat, site.lon, unix_seconds)
    free = _over_horizon(site, way)
    return {panel: free & _faces_sun(hull, panel, way) for panel in panels}


def _faces_sun(hull: Hull, panel: str, way: sun.Toward) -> Bools:
    if panel == "rail":
        return np.asarray(way.up >= _RAIL_LOW_SUN, dtype=np.bool_)
    if panel not in _NORMALS:
        raise ValueError(f"There is no panel {panel}; use one of {', '.join(PANELS)}.")
    faces = [
        _cosine(way, hull.heading_true_deg + turn, hull.flare_deg) > 0
        for turn in _NORMALS[panel]
    ]
    return np.asarray(np.logical_or.reduce(faces), dtype=np.bool_)


def _over_horizon(site: Site, way: sun.Toward) -> Bools:
    free = way.up > 0
    if not site.obstacles:
        return np.asarray(free, dtype=np.bool_)
    azimuth = np.degrees(np.arctan2(way.east, way.north))
    for obstacle in site.obstacles:
        turned = obstacle.az_to_deg - obstacle.az_from_deg
        # From 0 to 360 stands all round.
        width = turned % 360 or abs(turned)
        behind = ((azimuth - obstacle.az_from_deg) % 360 <= width) & (
            way.up < np.sin(np.radians(obstacle.elevation_deg))
        )
        free &= ~behind
    return np.asarray(free, dtype=np.bool_)


def grid(span: Span, step_minutes: int) -> sun.Floats:
    """Unix seconds from a span's start to its end by whole steps, the end left out."""
    return np.arange(span.start.timestamp(), span.end.timestamp(), step_minutes * 60.0)


def shade_spans(
    site: Site, hull: Hull, panel: str, span: Span, *, step_minutes: int = 5
) -> tuple[Span, ...]:
    """When a panel is in its own or an obstacle's shade, to the minute; night counts as shade.

    Shade or sun that lasts less than a step may be missed.
    """
    return panel_shades(site, hull, (panel,), span, step_minutes=step_minutes)[panel]


def panel_shades(
    site: Site, hull: Hull, panels: Iterable[str], span: Span, *, step_minutes: int = 5
) -> dict[str, tuple[Span, ...]]:
    """The same for several panels; the sun is worked out once, so a year of a boat takes about 20 ms."""
    steps, last = grid(span, step_minutes), span.end.timestamp() - 1
    unix = np.append(steps, max(steps[-1], last))
    found = lit_panels(site, hull, panels, unix)
    return {
        panel: _shaded(sunny, _turns(site, hull, panel, sunny, unix), span)
        for panel, sunny in found.items()
    }


def _turns(
    site: Site, hull: Hull, panel: str, sunny: Bools, unix: sun.Floats
) -> sun.Floats:
    """The first minutes, as Unix seconds, after the sun has come to a panel or left it."""
    after = np.flatnonzero(sunny[1:] != sunny[:-1]) + 1
    if not len(after):
        return unix[:0]
    steps = np.arange(60.0, np.diff(unix).max() + 60, 60)
    minutes = np.minimum(unix[after - 1][:, None] + steps, unix[after][:, None])
    found = lit(site, hull, panel, minutes.ravel()).reshape(minutes.shape)
    turned = found == sunny[after][:, None]
    return np.asarray(
        minutes[np.arange(len(after)), turned.argmax(axis=1)], dtype=np.float64
    )


def _shaded(sunny: Bools, turns: sun.Floats, span: Span) -> tuple[Span, ...]:
    moments = [datetime.fromtimestamp(unix, UTC) for unix in turns.tolist()]
    if not sunny[0]:
        moments.insert(0, span.start)
    if not sunny[-1]:
        moments.append(span.end)
    return tuple(map(Span, moments[::2], moments[1::2]))


def mask_spans(mask: Bools, span: Span, step_minutes: int) -> tuple[Span, ...]:
    """The spans in which a mask over a span's grid holds."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], mask.astype(np.int8), [0]))))
    step, start = timedelta(minutes=step_minutes), span.start.astimezone(UTC)
    return tuple(
        Span(start + a * step, min(start + b * step, span.end))
        for a, b in edges.reshape(-1, 2).tolist()
    )


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
