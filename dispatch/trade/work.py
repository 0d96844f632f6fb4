"""A piece of work as the sky sees it, and what the sky says of it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from zoneinfo import ZoneInfo

from dispatch.trade.air import SurfaceModel
from dispatch.trade.limits import FAMILIES, FamilyLimits, Limits, by_sheet
from dispatch.trade.product import Sheet
from dispatch.trade.readings import HullReading
from dispatch.trade.shade import Hull
from dispatch.trade.sky import Site
from dispatch.trade.spans import Span

COVERS = ("open", "screens", "roof")


@dataclass(frozen=True, kw_only=True)
class Neighbour:
    """Something near that must not be sprayed on: bearing from the boat, distance, whether it is sheeted."""

    what: str
    bearing_deg: float
    distance_m: float
    sheeted: bool = False


@dataclass(frozen=True, kw_only=True)
class Overruled:
    """A rule that somebody who may overruled over a span, as long as it finds nothing worse than ``excess``."""

    code: str
    span: Span
    excess: float


@dataclass(frozen=True, kw_only=True)
class Work:
    """What is to be done, where, under what cover, with which product and gun.

    ``panels`` must lie in shade through the visit and while the film levels after it: ``tail_minutes`` at most, less
    where its sheet and the hull's warmth say so.
    ``down_gust_ms`` is the gust at which the roof over it must be down, None where there is none or nobody told.
    ``readings`` of her hull, in order, go before forecast and model. What is
    ``overruled`` does not stand against it, whatever lies behind does.
    """

    family: str
    site: Site
    quickest_minutes: int
    panels: tuple[str, ...] = ()
    sheet: Sheet | None = None
    tail_minutes: int = 0
    cover: str = "open"
    down_gust_ms: float | None = None
    hull: Hull | None = None
    dark: bool = False
    neighbours: tuple[Neighbour, ...] = ()
    gun: str = "turbine"
    limits: Limits = field(default_factory=Limits)
    family_limits: FamilyLimits | None = None
    surface_model: SurfaceModel = field(default_factory=SurfaceModel)
    readings: tuple[HullReading, ...] = ()
    overruled: tuple[Overruled, ...] = ()

    def __post_init__(self) -> None:
        if self.family != "any" and self.family not in FAMILIES:
            raise ValueError(
                f"There is no weather family {self.family}; use any, {', '.join(FAMILIES)}."
            )
        if self.cover not in COVERS:
            raise ValueError(f"Cover is one of {', '.join(COVERS)}, not {self.cover}.")
        if self.down_gust_ms is not None and self.cover != "roof":
            raise ValueError("Only a roof must be down at a gust.")

    @property
    def zone(self) -> ZoneInfo:
        """The zone of the place, in which people read times."""
        return ZoneInfo(self.site.zone)

    @property
    def bounds(self) -> FamilyLimits | None:
        """The limits in force: the sheet's, else the family's; None where the sky does not matter."""
        if self.family == "any":
            return None
        family = self.family_limits or FAMILIES[self.family]
        return by_sheet(family, self.sheet) if self.sheet else family


@dataclass(frozen=True, kw_only=True)
class Veto:
    """A span in which work may not be done, the binding limit, and the numbers compared.

    ``edge`` is "during" (no part of the visit may lie in the span) or "ending" (its end may not).
    ``strength`` says who may overrule it: "wall" (nobody), "owner" or "lead". ``excess`` is how far past the
    limit it is at the worst, in the limit's own unit; 0 where that has no size.
    """

    span: Span
    edge: str
    code: str
    sentence: str
    numbers: Mapping[str, float]
    strength: str
    excess: float = 0.0
