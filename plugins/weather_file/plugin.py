"""The forecast hook over a folder of hourly CSV files."""

from collections.abc import Mapping
from datetime import UTC, datetime
from pathlib import Path

from dispatch.hooks.specs import hookimpl
from dispatch.hooks.values import Complaint, ForecastAnswer, ForecastAsk
from dispatch.trade.sky import HOUR
from plugins.weather_file import hours

_ISSUED = "# issued "


class WeatherFile:
    """Forecasts of places out of one folder."""

    def __init__(self, folder: Path, file: str, issued_at: str) -> None:
        self._folder, self._file, self._issued_at = folder, file, issued_at

    @hookimpl
    def forecast(self, ask: ForecastAsk) -> ForecastAnswer:
        """Read the place's own file, ``<place>.csv``, or the common one."""
        path = self._path(ask.place_key)
        text = _text(path)
        wanted = tuple(
            hour
            for hour in hours.read(path.name, text)
            if ask.span.start < hour.at + HOUR and hour.at < ask.span.end
        )
        if not wanted:
            raise Complaint(
                f"{path.name} has no hour from {ask.span.start:%d %b %Y %H:%M} to {ask.span.end:%d %b %Y %H:%M}."
            )
        return ForecastAnswer(issued_at=self._issued(path, text), hours=wanted)

    def _path(self, place_key: str) -> Path:
        own, common = self._folder / f"{place_key}.csv", self._folder / self._file
        path = own if own.is_file() else common
        if not path.is_file():
            raise Complaint(
                f"there is neither {own.name} nor {common.name} in {self._folder}."
            )
        return path

    def _issued(self, path: Path, text: str) -> datetime:
        """When the file says it was issued, else the option, else when it was last written."""
        first = text.partition("\n")[0]
        if first.startswith(_ISSUED):
            where = f"{path.name} line 1: issued"
            return hours.moment(where, first.removeprefix(_ISSUED))
        if self._issued_at:
            return hours.moment("the option issued_at", self._issued_at)
        return datetime.fromtimestamp(path.stat().st_mtime, UTC)


def make(options: Mapping[str, object]) -> WeatherFile:
    """The plugin's object with its options."""
    return WeatherFile(
        Path(str(options["folder"])), str(options["file"]), str(options["issued_at"])
    )


def _text(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise Complaint(
            f"{path.name} cannot be read as UTF-8 text ({error}). Nothing was taken in."
        ) from error
