"""Numbers with their units, in the units the outfit uses."""

from collections.abc import Callable
from dataclasses import dataclass

from dispatch.trade import units

_FINEST = 2  # the most decimals more that tell a value from its limit


def apart(
    say: Callable[[float, int], str], value: float, limit: float
) -> tuple[str, str]:
    """A value and what it is held against, to as many decimals as tell them apart; ``say`` takes how many more."""
    said = say(value, 0), say(limit, 0)
    for more in range(1, _FINEST + 1):
        if said[0] != said[1] or value == limit:
            break
        said = say(value, more), say(limit, more)
    return said


@dataclass(frozen=True, kw_only=True)
class Words:
    """How numbers are written: ``us`` (F, mph, ft, in) or ``metric`` (C, m/s, m, mm)."""

    system: str = "us"

    def __post_init__(self) -> None:
        if self.system not in ("us", "metric"):
            raise ValueError(f"Units are us or metric, not {self.system}.")

    def degrees(self, celsius: float, more: int = 0) -> str:
        """A temperature, with so many decimals more than usual."""
        return (
            f"{units.c_to_f(celsius):.{more}f} °F"
            if self.system == "us"
            else f"{celsius:.{1 + more}f} °C"
        )

    def difference(self, kelvin: float, more: int = 0) -> str:
        """A difference of temperatures, with so many decimals more than usual."""
        return (
            f"{units.dk_to_df(kelvin):z.{more}f} °F"
            if self.system == "us"
            else f"{kelvin:z.{1 + more}f} °C"
        )

    def speed(self, ms: float, more: int = 0) -> str:
        """A wind speed, with so many decimals more than usual."""
        return (
            f"{units.ms_to_mph(ms):.{more}f} mph"
            if self.system == "us"
            else f"{ms:.{1 + more}f} m/s"
        )

    def distance(self, metres: float) -> str:
        """A distance on the ground."""
        return (
            f"{units.m_to_ft(metres):.0f} ft"
            if self.system == "us"
            else f"{metres:.1f} m"
        )

    def rain(self, millimetres: float) -> str:
        """Rain in an hour."""
        return (
            f"{units.mm_to_inch(millimetres):.2f} in"
            if self.system == "us"
            else f"{millimetres:.1f} mm"
        )

    def volume(self, millilitres: float) -> str:
        """A volume of product."""
        return (
            f"{units.ml_to_oz(millilitres):.1f} oz"
            if self.system == "us"
            else f"{millilitres:.0f} ml"
        )

    def film(self, micrometres: float) -> str:
        """The thickness of a film."""
        return (
            f"{micrometres / units.MIL_UM:.1f} mil"
            if self.system == "us"
            else f"{micrometres:.0f} µm"
        )

    def spread(self, m2_per_l: float) -> str:
        """What a volume of product covers."""
        return (
            f"{m2_per_l * units.M2_PER_L_IN_FT2_PER_GAL:,.0f} sq ft a gallon"
            if self.system == "us"
            else f"{m2_per_l:.1f} m² a litre"
        )
