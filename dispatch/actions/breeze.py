"""What a breeze carries off: more product for a coat that is laid in gusts."""

from dispatch.actions import clock, facts
from dispatch.records.models import Stage, Visit
from dispatch.trade import sky
from dispatch.trade.film import Coverage
from dispatch.trade.spans import Span


def product_ml(visit: Visit, coverage: Coverage) -> float:
    """Millilitres a visit lays, with what a breeze carries off where the forecast has one; none under a roof.

    Hours without a gust add nothing: such a visit is not a go in any case.
    """
    stage = visit.stage
    if stage.family != "spray" or stage.cover == Stage.Cover.ROOF:
        return stage.product_ml
    gust = _gust_ms(visit)
    breezy = gust is not None and gust > coverage.breeze_gust_ms
    return stage.product_ml * (1 + (coverage.breeze_waste if breezy else 0))


def _gust_ms(visit: Visit) -> float | None:
    """The strongest gust at the place in the hours of a visit."""
    place, span = visit.stage.job.boat.place, Span(visit.start, visit.end)
    found = facts.sky_of(facts.latest_forecast(place, clock.now()), span)
    if found is None:
        return None
    hours = sky.local(found, facts.site(place, span)).hours
    gusts = [hour.gust_ms for hour in hours if hour.gust_ms is not None]
    return max(gusts, default=None)
