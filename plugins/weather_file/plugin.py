"""Read one place's hours from a CSV file, all of them or none."""

import csv
import math
from collections.abc import Callable, Iterator, Mapping
from datetime import UTC, datetime, timedelta
from pathlib import Path

from dispatch.hooks.specs import hookimpl
from dispatch.hooks.values import ForecastAnswer, ForecastAsk
from dispatch.trade.sky import SkyHour
from dispatch.trade.units import f_to_c, inch_to_mm, mph_to_ms

_SAME: Callable[[float], float] = float
# column -> (field of SkyHour, to SI, lowest, highest as written)
_COLUMNS: Mapping[str, tuple[str, Callable[[float], float], float, float]] = {
    "air_f": ("air_c", f_to_c, -80, 140),
    "dew_f": ("dew_c", f_to_c, -80, 110),
    "rh_pct": ("rh_pct", _SAME, 0, 100),
    "wind_mph": ("wind_ms", mph_to_ms, 0, 250),
    "gust_mph": ("gust_ms", mph_to_ms, 0, 300),
    "from_deg": ("from_deg", _SAME, 0, 360),
    "cloud_pct": ("cloud_pct", _SAME, 0, 100),
    "rain_in": ("rain_mm", inch_to_mm, 0, 20),
    "rain_prob_pct": ("rain_prob_pct", _SAME, 0, 100),
    "fog": ("fog", _SAME, 0, 1),
}
_ISSUED = "# issued "


class BadFile(ValueError):  # noqa: N818 - the text is the sentence a person reads
    """A file that cannot be used, with the place in it that is wrong."""


class WeatherFile:
    """The forecast hook over a folder of CSV files."""

    def __init__(self, folder: Path, file: str, issued_at: str) -> None:
        self._folder, self._file, self._issued_at = folder, file, issued_at

    @hookimpl
    def forecast(self, ask: ForecastAsk) -> ForecastAnswer:
        """Read the place's own file, ``<place>.csv``, or the common one."""
        own = self._folder / f"{ask.place_key}.csv"
        path = own if own.exists() else self._folder / self._file
        if not path.exists():
            raise BadFile(f"there is no forecast file {path.name} in {self._folder}.")
        text = path.read_text(encoding="utf-8")
        hours = tuple(_hours(path.name, text))
        wanted = tuple(
            hour
            for hour in hours
            if ask.span.start <= hour.at + timedelta(hours=1) and hour.at < ask.span.end
        )
        return ForecastAnswer(issued_at=self._issued(path, text), hours=wanted)

    def _issued(self, path: Path, text: str) -> datetime:
        first = text.partition("\n")[0]
        said = (
            first.removeprefix(_ISSUED).strip()
            if first.startswith(_ISSUED)
            else self._issued_at
        )
        if not said:
            return datetime.fromtimestamp(path.stat().st_mtime, UTC)
        return _moment(path.name, 1, "issued", said)


def make(options: Mapping[str, object]) -> WeatherFile:
    """The plugin's object with its options."""
    return WeatherFile(
        Path(str(options["folder"])), str(options["file"]), str(options["issued_at"])
    )


def _hours(name: str, text: str) -> Iterator[SkyHour]:
    lines = [
        (number, line)
        for number, line in enumerate(text.splitlines(), 1)
        if line and not line.startswith("#")
    ]
    reader = csv.DictReader(line for _, line in lines)
    missing = {"time", *_COLUMNS} - set(reader.fieldnames or ())
    if missing:
        raise BadFile(f"{name}: the columns {', '.join(sorted(missing))} are missing.")
    last: datetime | None = None
    for (number, _), row in zip(lines[1:], reader, strict=True):
        at = _moment(name, number, "time", row["time"] or "")
        if last is not None and at <= last:
            raise BadFile(
                f"{name} line {number}: {row['time']} does not come after the hour before it."
            )
        last = at
        yield SkyHour(at=at, **_numbers(name, number, row))


def _numbers(
    name: str, number: int, row: Mapping[str, str | None]
) -> dict[str, float | None]:
    return {
        field: _number(name, number, column, row[column], convert, (low, high))
        for column, (field, convert, low, high) in _COLUMNS.items()
    }


def _number(
    name: str,
    line: int,
    column: str,
    text: str | None,
    convert: Callable[[float], float],
    allowed: tuple[float, float],
) -> float | None:
    """A cell in SI; an empty one is unknown."""
    if text is None or not text.strip():
        return None
    try:
        value = float(text)
    except ValueError:
        value = math.nan
    if not allowed[0] <= value <= allowed[1]:
        raise BadFile(
            f"{name} line {line}: {column} is {text!r}; a number from {allowed[0]:g} to {allowed[1]:g} is wanted. "
            "Nothing was taken in."
        )
    return convert(value)


def _moment(name: str, line: int, column: str, text: str) -> datetime:
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        moment = None
    if moment is None or moment.tzinfo is None:
        raise BadFile(
            f"{name} line {line}: {column} is {text!r}; a time such as 2027-05-24T08:00:00-04:00 is wanted."
        )
    return moment.astimezone(UTC)
