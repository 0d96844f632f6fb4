"""The units people read and set rates and limits in, and the way there and back from what is stored."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from dispatch.trade.units import FT_M, INCH_MM, MPH_MS, US_FL_OZ_ML

MILE_KM = 5280 * FT_M / 1000
# A limit stored as this, above or below nought, limits nothing.
_NO_LIMIT = 1e6


@dataclass(frozen=True, kw_only=True)
class Unit:
    """What a person reads is ``stored * scale + offset``, with ``text`` behind it; some limits may be lacking.

    Minutes of the day are read and set by the ``clock``: 20:30. ``places`` is to how many decimals it is said, where the table
    keeps whole numbers of another unit or nobody measures finer; from ``whole_from`` on it is said whole.
    """

    text: str
    scale: float = 1.0
    offset: float = 0.0
    may_lack: bool = False
    clock: bool = False
    places: int | None = None
    whole_from: float = math.inf

    def shown(self, stored: float) -> str:
        """A stored value as a bare number; empty where it limits nothing."""
        if self.clock:
            return f"{round(stored) // 60:02d}:{round(stored) % 60:02d}"
        lacks = self.may_lack and abs(stored) == _NO_LIMIT
        there = self._there(stored)
        if abs(there) >= self.whole_from:
            there = round(there)
        elif self.places is not None:
            there = round(there, self.places)
        return "" if lacks else _plain(there)

    def said(self, stored: float) -> str:
        """A stored value with its unit."""
        shown = self.shown(stored)
        if not shown:
            return "no limit"
        if self.text.startswith("$"):
            return f"{_dollars(float(shown))}{self.text[1:]}"
        text = _ONE.get(self.text, self.text) if shown == "1" else self.text
        return f"{shown}{'' if text == '°' else ' '}{text}".strip()

    def stored(self, entered: str) -> float:
        """What a person entered, as it is stored.

        Raises:
            ValueError: it is no number, or no time where one is asked for.
        """
        if self.clock:
            moment = datetime.strptime(entered.strip(), "%H:%M")  # noqa: DTZ007 - a time of day alone
            return moment.hour * 60.0 + moment.minute
        number = float(entered.strip().removeprefix("$"))
        if not math.isfinite(number):
            raise ValueError("It is not a finite number.")
        return (number - self.offset) / self.scale

    def inside(self, least: float, most: float) -> tuple[str, str]:
        """A range as bare numbers, rounded inwards so that both ends are allowed."""
        if self.clock:
            return self.shown(least), self.shown(most)
        low, high = self._there(least), self._there(most)
        return _plain(_inward(low, up=True)), _plain(_inward(high, up=False))

    def _there(self, stored: float) -> float:
        return stored * self.scale + self.offset


_ONE = {"days": "day", "miles": "mile"}
_SAME = {
    "_pct": Unit(text="%"),
    "_deg": Unit(text="°"),
    "_minutes": Unit(text="min"),
    "_hours": Unit(text="h"),
    "_days": Unit(text="days"),
    "_clock": Unit(text="", clock=True),
    "_watts": Unit(text="W"),
    "_cents": Unit(text="$", scale=0.01),
    "_share": Unit(text="%", scale=100),
    "_ref_h": Unit(text="h at 70 °F"),
}
_US: Mapping[str, Unit] = _SAME | {
    "_c": Unit(text="°F", scale=1.8, offset=32, may_lack=True),
    "_k": Unit(text="°F", scale=1.8, may_lack=True),
    "_ms": Unit(text="mph", scale=1 / MPH_MS),
    "_m": Unit(text="ft", scale=1 / FT_M),
    "_m_per_ms": Unit(text="ft a mph", scale=MPH_MS / FT_M),
    "_mm": Unit(text="inches an hour", scale=1 / INCH_MM, may_lack=True),
    "_ft": Unit(text="ft"),
    "_oz_ft2": Unit(text="oz a sq ft"),
    "km_per_hour": Unit(text="mph", scale=1 / (MPH_MS * 3.6)),
    "free_km": Unit(text="miles", scale=1 / MILE_KM),
    "cents_per_km": Unit(text="$ a mile", scale=0.01 * MILE_KM),
    "_l_per_ft": Unit(text="gal a ft", scale=1 / (US_FL_OZ_ML * 0.128), places=2),
}
_METRIC: Mapping[str, Unit] = _SAME | {
    "_c": Unit(text="°C", may_lack=True),
    "_k": Unit(text="°C", may_lack=True),
    "_ms": Unit(text="m/s"),
    "_m": Unit(text="m"),
    "_m_per_ms": Unit(text="m a m/s"),
    "_mm": Unit(text="mm an hour", may_lack=True),
    "_ft": Unit(text="m", scale=FT_M),
    "_oz_ft2": Unit(text="ml a sq m", scale=US_FL_OZ_ML / FT_M**2),
    "km_per_hour": Unit(text="km/h"),
    "free_km": Unit(text="km"),
    "cents_per_km": Unit(text="$ a km", scale=0.01),
    "_l_per_ft": Unit(text="l a m", scale=1 / FT_M),
    "_ref_h": Unit(text="h at 21 °C"),
}
_ENDS: Mapping[str, str] = {
    "oz_per_ft2_coat": "_oz_ft2",
    "breeze_waste": "_share",
    "trainee_waste": "_share",
    "carry_reserve": "_share",
    "worth_of_third": "_share",
    "worth_of_fourth": "_share",
    "long_boat_power": "power",
    "count": "power",
    "minutes": "_minutes",
    "rush_count": "power",
    "cover_told": "power",
    "owner_told": "power",
}


def unit(name: str, system: str) -> Unit:
    """The unit of a setting in ``us`` or ``metric``, by the ending of its name; a bare factor where none fits."""
    units = _US if system == "us" else _METRIC
    own = _ENDS.get(name.rpartition(".")[2], name)
    if own == "power":
        return Unit(text="")
    if name.startswith("water."):
        return units["_l_per_ft"]
    if name.startswith("waits."):
        return Unit(text="h", scale=1 / 60)
    fits = [ending for ending in units if own.endswith(ending)]
    return units[max(fits, key=len)] if fits else Unit(text="times")


def _plain(number: float) -> str:
    """A number without needless noughts: two decimals from ten on, four below one."""
    size = abs(number)
    places = 2 if size >= 10 else 3 if size >= 1 else 4
    said = f"{number:.{places}f}"
    said = said.rstrip("0").rstrip(".")
    return "0" if said == "-0" else said


def _dollars(number: float) -> str:
    """Dollars as they are read: $1,360, $1,512.50, -$5, $0.655."""
    said = f"{abs(number):,.10g}"
    cents = "0" if "." in said and said[-2] == "." else ""
    return f"{'-' if number < 0 else ''}${said}{cents}"


def _inward(number: float, *, up: bool) -> float:
    """The next number inwards that is short to read: whole from 10 on, else to within a hundredth of itself."""
    for places in range(0 if abs(number) >= 10 else 3):
        near = _cut(number, places, up=up)
        if abs(near - number) <= abs(number) / 100:
            return near
    return _cut(number, 0 if abs(number) >= 10 else 3, up=up)


def _cut(number: float, places: int, *, up: bool) -> float:
    step = 10.0**places
    near = round(number * step, 6)
    return (math.ceil(near) if up else math.floor(near)) / step
