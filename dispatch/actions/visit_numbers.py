"""What stands against a visit, told with the numbers of its own hours instead of the worst of a longer span."""

from datetime import timedelta

from dispatch.actions import clock, facts, one_moment, rates
from dispatch.records.models import Stage
from dispatch.trade import rulebook, window
from dispatch.trade.samples import STEP_MINUTES
from dispatch.trade.spans import Span
from dispatch.trade.work import Veto

# Film that is laid in a visit is followed by the sky after it.
_BEYOND = timedelta(days=9)
_STEP = timedelta(minutes=STEP_MINUTES)


def sentence(stage: Stage, veto: Veto, asked: Span) -> str:
    """A stored veto's sentence for a visit's own hours; as it is stored where the house did not make the rule.

    Stored spans tell their worst hour, so that one line a span is enough; a visit wants its own.
    """
    if veto.code not in rulebook.RULES or veto.code == "unknown":
        return veto.sentence
    forecast = facts.latest_forecast(stage.job.boat.place, clock.now())
    sky = facts.sky_of(forecast, Span(asked.start, asked.end + _BEYOND))
    if sky is None:
        return veto.sentence
    during = veto.edge == "during"
    hours = asked if during else Span(asked.end - _STEP, asked.end + _STEP)
    work = facts.work(stage, hours, rates.limits())
    found = window.judge(
        asked, window.vetoes(work, sky, hours, one_moment.outfit().units)
    )
    same = [one for one in found if (one.code, one.edge) == (veto.code, veto.edge)]
    return max(same, key=lambda one: one.excess).sentence if same else veto.sentence
