"""What is stored by the foot, as it is read and entered: by the foot, or by the metre in a metric outfit."""

from dataclasses import dataclass

from dispatch.records.models import Outfit
from dispatch.trade.units import FT_M
from dispatch.trade.words import Words


@dataclass(frozen=True, kw_only=True)
class PerLength:
    """A rate or a price by length in one system of units."""

    metric: bool = False

    @property
    def a(self) -> str:
        """``a foot`` or ``a metre``."""
        return "a metre" if self.metric else "a foot"

    @property
    def short(self) -> str:
        """``a ft`` or ``a m``."""
        return "a m" if self.metric else "a ft"

    def shown(self, per_ft: float) -> float:
        """What is stored by the foot, by the length people read."""
        return per_ft / FT_M if self.metric else per_ft

    def stored(self, entered: float) -> float:
        """What people entered, by the foot."""
        return entered * FT_M if self.metric else entered

    def long(self, feet: float) -> str:
        """A length of boat."""
        return Words(system="metric" if self.metric else "us").distance(feet * FT_M)


def of_outfit() -> PerLength:
    """The one the outfit reads in."""
    units = Outfit.objects.values_list("units", flat=True).first()
    return PerLength(metric=units == "metric")
