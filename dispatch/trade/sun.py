"""Where the sun stands."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache

import numpy as np
import numpy.typing as npt
from astral import Observer
from astral.sun import azimuth, elevation

Floats = npt.NDArray[np.float64]
_J2000 = 2451545.0
_UNIX_EPOCH_JD = 2440587.5
_QUARTER_S = 900
_FEW_QUARTERS = 1600  # of a fortnight, and some


@dataclass(frozen=True, kw_only=True)
class Toward:
    """The way to the sun as unit vectors: east, north and up."""

    east: Floats
    north: Floats
    up: Floats


def position(lat: float, lon: float, when: datetime) -> tuple[float, float]:
    """Azimuth (degrees clockwise from true north) and geometric elevation, by the astral library.

    Raises:
        ValueError: the moment has no zone.
    """
    _zoned(when)
    observer = Observer(lat, lon)
    return azimuth(observer, when), elevation(observer, when, with_refraction=False)


def series(
    lat: float, lon: float, moments: Sequence[datetime]
) -> tuple[Floats, Floats]:
    """Azimuths and geometric elevations (degrees) at many aware moments at once.

    The low-precision formulas of Meeus, Astronomical Algorithms, chapter 25, as the NOAA
    solar calculator uses them: good to 0.02 degrees, far inside what shade on a hull needs.

    Raises:
        ValueError: a moment has no zone.
    """
    unix = [_zoned(moment).timestamp() for moment in moments]
    return angles(lat, lon, np.array(unix, dtype=np.float64))


def _zoned(moment: datetime) -> datetime:
    if moment.tzinfo is None:
        raise ValueError("The sun is sought at a moment with a time zone.")
    return moment


def angles(lat: float, lon: float, unix_seconds: Floats) -> tuple[Floats, Floats]:
    """The same for an array of Unix seconds."""
    way = toward(lat, lon, unix_seconds)
    return np.degrees(np.arctan2(way.east, way.north)) % 360, np.degrees(
        np.arcsin(np.clip(way.up, -1, 1))
    )


def toward(lat: float, lon: float, unix_seconds: Floats) -> Toward:
    """The way to the sun at each of an array of Unix seconds."""
    sin_declination, cos_declination, equation_minutes = _slow(unix_seconds)
    turned = (unix_seconds / 60 + equation_minutes + 4 * lon) % 1440
    hour_angle = np.radians(turned / 4 - 180)
    sin_lat, cos_lat = np.sin(np.radians(lat)), np.cos(np.radians(lat))
    meridian = cos_declination * np.cos(hour_angle)
    return Toward(
        east=-cos_declination * np.sin(hour_angle),
        north=cos_lat * sin_declination - sin_lat * meridian,
        up=sin_lat * sin_declination + cos_lat * meridian,
    )


def _slow(unix_seconds: Floats) -> tuple[Floats, Floats, Floats]:
    """Sine and cosine of the declination, and the equation of time: between quarters of hours where those are few.

    Over an hour they bend by less than a millionth of a degree.
    """
    if not len(unix_seconds):
        return unix_seconds, unix_seconds, unix_seconds
    first = int(unix_seconds.min() // _QUARTER_S)
    last = int(unix_seconds.max() // _QUARTER_S) + 1
    if last - first > max(_FEW_QUARTERS, len(unix_seconds)):
        return _slow_at(unix_seconds)
    at, *found = _by_quarter(first, last)
    sine, cosine, equation = (np.interp(unix_seconds, at, one) for one in found)
    return sine, cosine, equation


# The same days are asked for again and again: for every heading of a boat, and for every visit of a week.
@lru_cache(maxsize=256)
def _by_quarter(first: int, last: int) -> tuple[Floats, Floats, Floats, Floats]:
    """Each quarter of an hour since 1970 from one to another, and the same at each."""
    at = np.arange(first, last + 1, dtype=np.float64) * float(_QUARTER_S)
    return at, *_slow_at(at)


def _slow_at(unix_seconds: Floats) -> tuple[Floats, Floats, Floats]:
    """The same, worked out at each moment."""
    declination, equation = _declination_and_equation(
        (unix_seconds / 86400 + _UNIX_EPOCH_JD - _J2000) / 36525
    )
    return np.sin(declination), np.cos(declination), equation


def _declination_and_equation(century: Floats) -> tuple[Floats, Floats]:
    """Declination in radians and the equation of time in minutes, by Julian centuries since J2000."""
    mean_longitude = np.radians(
        (280.46646 + century * (36000.76983 + 0.0003032 * century)) % 360
    )
    anomaly = np.radians(357.52911 + century * (35999.05029 - 0.0001537 * century))
    eccentricity = 0.016708634 - century * (0.000042037 + 0.0000001267 * century)
    centre = (
        np.sin(anomaly) * (1.914602 - century * (0.004817 + 0.000014 * century))
        + np.sin(2 * anomaly) * (0.019993 - 0.000101 * century)
        + np.sin(3 * anomaly) * 0.000289
    )
    node = np.radians(125.04 - 1934.136 * century)
    longitude = mean_longitude + np.radians(centre - 0.00569 - 0.00478 * np.sin(node))
    obliquity = np.radians(23.439291 - century * 0.0130042 + 0.00256 * np.cos(node))
    declination = np.arcsin(np.sin(obliquity) * np.sin(longitude))
    y = np.tan(obliquity / 2) ** 2
    equation = (
        y * np.sin(2 * mean_longitude)
        - 2 * eccentricity * np.sin(anomaly)
        + 4 * eccentricity * y * np.sin(anomaly) * np.cos(2 * mean_longitude)
        - 0.5 * y * y * np.sin(4 * mean_longitude)
        - 1.25 * eccentricity * eccentricity * np.sin(2 * anomaly)
    )
    return declination, 4 * np.degrees(equation)
