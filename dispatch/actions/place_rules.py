"""What a place's own rules forbid of a stage, whatever the sky says: a wall until the place changes them."""

from collections.abc import Iterator

from dispatch.actions import one_moment, rates
from dispatch.records.models import Place, Sheet, Stage
from dispatch.trade import rulebook
from dispatch.trade.spans import Span
from dispatch.trade.words import Words
from dispatch.trade.work import Veto

CODE = "place-rule"


def against(stage: Stage, span: Span) -> tuple[Veto, ...]:
    """The vetoes of a place's rules over a span; none for work without a spray gun."""
    if stage.family != "spray":
        return ()
    return tuple(
        Veto(
            span=span,
            edge="during",
            code=CODE,
            sentence=sentence,
            numbers={},
            strength=rulebook.strength(CODE),
        )
        for sentence in _broken(stage, stage.job.boat.place)
    )


def near_water(place: Place) -> str:
    """Why open water forbids spraying at a place; empty where it does not, or nobody entered how far it lies."""
    clear, off = rates.limits().water_clear_m, place.water_off_m
    if place.afloat or off is None or off >= clear:
        return ""
    words = Words(system=one_moment.outfit().units)
    return f"open water lies {words.distance(off)} from the boats at {place.name}, and nothing is sprayed within {words.distance(clear)} of it"


def _broken(stage: Stage, place: Place) -> Iterator[str]:
    rule, sheet = place.spray_rule, stage.sheet
    if rule == Place.SprayRule.NONE or place.afloat:
        yield f"{place.name} allows no spraying"
    elif rule == Place.SprayRule.ROOF and stage.cover != Stage.Cover.ROOF:
        yield f"{place.name} allows spraying under a roof only"
    elif rule == Place.SprayRule.SCREENS and stage.cover == Stage.Cover.OPEN:
        yield f"{place.name} allows spraying behind side-screens only"
    if near := near_water(place):
        yield near
    if sheet and sheet.kind == Sheet.Kind.TWO_PART and not place.two_part_allowed:
        yield f"{place.name} allows no two-part product, and {sheet.name} is one"
