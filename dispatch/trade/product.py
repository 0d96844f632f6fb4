"""A product's data sheet as one value."""

from dataclasses import dataclass

KINDS = ("one-part", "two-part", "wipe-on", "gelcoat")


@dataclass(frozen=True, kw_only=True)
class Sheet:
    """Limits a product sets: Celsius, m/s, kelvin; cure in hours at 70 F (21.1 C) surface, ``ref_h``.

    ``solids_pct`` is what stays of it when dry, by volume; ``dry_um`` the dry film its maker asks of one coat.
    """

    name: str
    kind: str
    air_min_c: float
    air_max_c: float
    surface_min_c: float
    surface_max_c: float
    rh_max_pct: float
    spread_min_k: float
    wind_max_ms: float
    gust_max_ms: float
    flash_ref_minutes: float
    cure_min_c: float
    rh_min_pct: float | None = None
    screened_wind_max_ms: float | None = None
    screened_gust_max_ms: float | None = None
    recoat_latest_ref_h: float | None = None
    rain_safe_ref_h: float | None = None
    sandable_ref_h: float | None = None
    refit_extra_ref_h: float = 6.0
    pot_life_ref_h: float | None = None
    opened_shelf_days: int | None = None
    solids_pct: float | None = None
    dry_um: float | None = None
    cautions: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if self.kind not in KINDS:
            raise ValueError(
                f"{self.name}: kind {self.kind} is not one of {', '.join(KINDS)}."
            )
        if self.air_min_c >= self.air_max_c or self.surface_min_c >= self.surface_max_c:
            raise ValueError(
                f"{self.name}: a lowest temperature must lie below its highest."
            )
