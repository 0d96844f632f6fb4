"""The numbers a visit is judged by, each beside its limit and where that comes from, whether or not any is broken."""

from dataclasses import dataclass
from datetime import timedelta

from dispatch.actions import clock, facts, rates
from dispatch.records.models import Stage
from dispatch.trade import comparing, rulebook
from dispatch.trade.spans import Span
from dispatch.trade.words import Words

_AROUND = timedelta(hours=2)


@dataclass(frozen=True, kw_only=True)
class Line:
    """One number: what it is in those hours, its limit, ``kept``, ``broken`` or ``not known``, and the rule's source."""

    name: str
    there: str
    limit: str
    word: str
    source: str


def of(stage: Stage, span: Span, words: Words) -> tuple[Line, ...]:
    """Every number of a stage over a span, by the newest forecast and what was read on her."""
    forecast = facts.latest_forecast(stage.job.boat.place, clock.now())
    sky = facts.sky_of(forecast, Span(span.start - _AROUND, span.end + _AROUND))
    work = facts.work(stage, span, rates.limits())
    word = {True: "kept", False: "broken", None: "not known"}
    return tuple(
        Line(
            name=one.name,
            there=one.there,
            limit=one.limit,
            word=word[one.keeps],
            source=_source(stage, one.code),
        )
        for one in comparing.compare(work, sky, span, words)
    )


def _source(stage: Stage, code: str) -> str:
    """The sheet that sets it, else the rule's own source."""
    rule = rulebook.RULES[code]
    if rule.by_sheet and stage.sheet is not None:
        return f"The sheet of {stage.sheet.name}."
    return rule.source
