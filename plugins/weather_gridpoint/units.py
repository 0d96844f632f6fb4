"""The units a layer may name, and what they come to in SI."""

from collections.abc import Callable, Mapping

from dispatch.hooks.values import Complaint
from dispatch.trade.units import f_to_c, inch_to_mm, mph_to_ms

KELVIN_C = 273.15
# 1 knot = 1852 m an hour (the international knot).
KNOT_MS = 1852 / 3600
_SAME: Callable[[float], float] = float
_SPEEDS: Mapping[str, Callable[[float], float]] = {
    "m_s-1": _SAME,
    "km_h-1": lambda value: value / 3.6,
    "kt": lambda value: value * KNOT_MS,
    "mi_h-1": mph_to_ms,
}
# kind -> unit -> to SI
UNITS: Mapping[str, Mapping[str, Callable[[float], float]]] = {
    "temperature": {
        "degC": _SAME,
        "degF": f_to_c,
        "K": lambda value: value - KELVIN_C,
    },
    "speed": _SPEEDS,
    "share": {"percent": _SAME},
    "bearing": {"degree_(angle)": _SAME, "degree": _SAME},
    "depth": {
        "mm": _SAME,
        "cm": lambda value: value * 10,
        "m": lambda value: value * 1000,
        "in": inch_to_mm,
    },
}


def to_si(layer: str, kind: str, unit: str) -> Callable[[float], float]:
    """How a layer's numbers become SI; its unit may carry the name of its list, as in ``wmoUnit:degC``.

    Raises:
        Complaint: it is no unit of that kind.
    """
    known = UNITS[kind]
    convert = known.get(unit.rpartition(":")[2])
    if convert is None:
        raise Complaint(
            f"{layer} is in {unit!r}; {', '.join(known)} can be read. Nothing was taken in."
        )
    return convert
