"""Pot life of what a visit mixes, by the sheet and the hours' warmth, and how much to mix at once."""

from collections.abc import Iterator

from dispatch.actions import clock, facts, rates, visit_waits
from dispatch.actions.board_words import lasting
from dispatch.records.models import Sheet, Stage
from dispatch.trade import cure, mixing, sky
from dispatch.trade.mixing import Batch, Laying
from dispatch.trade.spans import Span
from dispatch.trade.words import Words

_DECIDES = "A big or warm batch goes off sooner; the sheet decides. What is left over is waste: never back into the can."
_LASTS = {
    "visit": "all coats of this visit",
    "coat": "one coat; mix again for the next",
    "part": "part of a coat; mix again as you go",
}


def mixed(stage: Stage) -> bool:
    """Whether a stage lays something that is mixed before use and sets in the pot."""
    sheet = stage.sheet
    return sheet is not None and (
        sheet.kind == Sheet.Kind.TWO_PART or sheet.pot_life_ref_h is not None
    )


def lines(stage: Stage, span: Span, words: Words) -> Iterator[str]:
    """What the crew is told of mixing for a visit over its hours; nothing where nothing is mixed."""
    if not mixed(stage) or stage.sheet is None:
        return
    if stage.sheet.pot_life_ref_h is None:
        yield f"{stage.sheet.name} sets in the pot, and its pot life is not entered. Read the sheet before you mix."
        return
    sheet_says = f"{lasting(stage.sheet.pot_life_ref_h * 60)} at {words.degrees(cure.REFERENCE_C)} by its sheet"
    warmest = warmest_c(stage, span)
    if warmest is None:
        yield f"Pot life of {stage.sheet.name} is not known for the hour, as its warmth is not: {sheet_says}, half of that for every {_eighteen(words)} more. {_DECIDES}"
        return
    minutes = cure.pot_life_minutes(stage.sheet.pot_life_ref_h, warmest)
    yield (
        f"Pot life of {stage.sheet.name} about {lasting(minutes)} at {words.degrees(warmest)}, the warmest of the visit's "
        f"air ({sheet_says}). {_most(stage, span, minutes, words)}{_DECIDES}"
    )


def warmest_c(stage: Stage, span: Span) -> float | None:
    """The warmest air of a visit's hours, by the newest forecast at the place or as it was read there; None where not known."""
    place = stage.job.boat.place
    given = facts.sky_of(facts.latest_forecast(place, clock.now()), span)
    hours = sky.local(given, facts.site(place, span)).hours if given else ()
    told = [one.air_c for one in hours if one.at + sky.HOUR > span.start]
    if not told or None in told:
        return None
    read = facts.readings(stage.job.boat, span, rates.limits())
    return max(
        celsius
        for celsius in (*told, *(one.air_c for one in read))
        if celsius is not None
    )


def most(stage: Stage, span: Span, pot_minutes: float) -> Batch | None:
    """The most to mix at once for a visit in a span; None where it is not reckoned how much it lays."""
    if not stage.product_ml or not stage.minutes:
        return None
    coats = stage.flashes + 1
    # By the slowest team, whose batch is the smallest.
    laying = Laying(
        product_ml=stage.product_ml,
        coats=coats,
        coat_minutes=max(stage.minutes.values()) / coats,
        between_minutes=visit_waits.flash(stage, facts.coldest_c(stage, (span,))),
    )
    return mixing.batch(laying, pot_minutes)


def _most(stage: Stage, span: Span, pot_minutes: float, words: Words) -> str:
    batch = most(stage, span, pot_minutes)
    if batch is None:
        return "Mix no more than is laid in that time. "
    return f"Mix {words.volume(batch.ml)} at most at a time: {_LASTS[batch.lasts]}. "


def _eighteen(words: Words) -> str:
    return words.difference(10)
