"""What a place's own rules forbid of a stage, whatever the sky says: a wall until the place changes them."""

from collections.abc import Iterator

from dispatch.records.models import Place, Sheet, Stage
from dispatch.trade import rulebook
from dispatch.trade.spans import Span
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


def _broken(stage: Stage, place: Place) -> Iterator[str]:
    rule, sheet = place.spray_rule, stage.sheet
    if rule == Place.SprayRule.NONE or place.afloat:
        yield f"{place.name} allows no spraying"
    elif rule == Place.SprayRule.ROOF and stage.cover != Stage.Cover.ROOF:
        yield f"{place.name} allows spraying under a roof only"
    elif rule == Place.SprayRule.SCREENS and stage.cover == Stage.Cover.OPEN:
        yield f"{place.name} allows spraying behind side-screens only"
    if sheet and sheet.kind == Sheet.Kind.TWO_PART and not place.two_part_allowed:
        yield f"{place.name} allows no two-part product, and {sheet.name} is one"
