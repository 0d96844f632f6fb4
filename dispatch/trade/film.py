"""Hull area, the product it takes, and the cans to buy."""

import math
from dataclasses import dataclass

from dispatch.trade import units

_M2_PER_FT2 = units.FT_M**2


@dataclass(frozen=True, kw_only=True)
class Coverage:
    """The outfit's product rates; area formulas are trade rules of thumb, to be edited, never measured facts.

    What a narrow top rail takes, about 4 oz at 24 ft, is within the tenth that is carried on top.
    """

    oz_per_ft2_coat: float = 0.124
    electric_waste: float = 1.15
    breeze_waste: float = 0.08
    breeze_gust_ms: float = units.mph_to_ms(8)
    trainee_waste: float = 0.10
    carry_reserve: float = 0.10


@dataclass(frozen=True, kw_only=True)
class Topsides:
    """A hull above the water, in metres; freeboard where it is known."""

    length_m: float
    freeboard_m: float | None = None

    def __post_init__(self) -> None:
        if self.length_m <= 0 or (
            self.freeboard_m is not None and self.freeboard_m <= 0
        ):
            raise ValueError("Length and freeboard must be above zero metres.")


def side_m2(hull: Topsides) -> float:
    """One side: length x freeboard, by default 2.8 ft x (L/20)^0.6."""
    feet = hull.length_m / units.FT_M
    freeboard_ft = (
        hull.freeboard_m / units.FT_M if hull.freeboard_m else 2.8 * (feet / 20) ** 0.6
    )
    return feet * freeboard_ft * _M2_PER_FT2


def transom_m2(hull: Topsides) -> float:
    """The transom: 7 ft x (L/20)^0.6 by 2.5 ft x (L/20)^0.5."""
    ratio = hull.length_m / units.FT_M / 20
    return float(7 * ratio**0.6 * 2.5 * ratio**0.5 * _M2_PER_FT2)


def product_ml(
    area_m2: float, *, coats: int, waste: float, coverage: Coverage
) -> float:
    """Millilitres for so many coats of an area.

    Raises:
        ValueError: fewer coats than none, or a waste factor below 1, so less than the hull takes.
    """
    if coats < 0:
        raise ValueError(f"A hull takes 0 coats or more, not {coats}.")
    if not waste >= 1:
        raise ValueError(
            "A waste factor below 1 would carry less product than the hull takes."
        )
    return (
        coats
        * coverage.oz_per_ft2_coat
        * area_m2
        / _M2_PER_FT2
        * waste
        * units.US_FL_OZ_ML
    )


def wet_um(ml: float, area_m2: float) -> float:
    """How thick so many millilitres lie on an area, micrometres, before anything dries: 1 ml on 1 m2 is 1 um.

    Raises:
        ValueError: there is no area.
    """
    if not area_m2 > 0:
        raise ValueError(f"A film lies on more than 0 m2, not {area_m2:g}.")
    return ml / area_m2


def dry_um(wet_um: float, solids_pct: float) -> float:
    """What a wet film dries to, by its sheet's solids in percent of the volume."""
    return wet_um * _share(solids_pct)


def wet_for_dry_um(dry_um: float, solids_pct: float) -> float:
    """The wet film that dries to a thickness, by the sheet's solids in percent of the volume."""
    return dry_um / _share(solids_pct)


def spread_m2_per_l(
    dry_um: float, solids_pct: float, transfer_pct: float = 100.0
) -> float:
    """Square metres a litre covers at a dry thickness: the theoretical spreading rate (ISO 3233-3), less overspray.

    ``transfer_pct`` is the share of the product that lands on the hull.

    Raises:
        ValueError: no film, or a percentage outside 0 to 100.
    """
    if not dry_um > 0:
        raise ValueError(f"A dry film is thicker than 0 um, not {dry_um:g}.")
    return 1000 * _share(solids_pct) * _share(transfer_pct) / dry_um


def _share(percent: float) -> float:
    if not 0 < percent <= 100:
        raise ValueError(
            f"Solids and transfer lie above 0 and up to 100 %, not {percent:g}."
        )
    return percent / 100


def packs_to_buy(need_ml: float, have_ml: float, pack_ml: float) -> int:
    """Whole packs that cover what is short.

    Raises:
        ValueError: a pack holds nothing, or an amount is not known.
    """
    if not pack_ml > 0 or math.isnan(need_ml + have_ml):
        raise ValueError("Packs are counted of known amounts, and hold more than 0 ml.")
    return max(0, math.ceil((need_ml - have_ml) / pack_ml - 1e-9))
