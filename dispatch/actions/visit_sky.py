"""What the sky says of a visit: it allows it, forbids it, or is not known; unknown is never allowed."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from django.db import transaction

from dispatch.actions import (
    board_mends,
    board_words,
    clock,
    facts,
    feeds,
    history,
    last_answers,
    one_moment,
    rates,
    visit_numbers,
    windows,
)
from dispatch.records.models import Forecast, Stage, Visit
from dispatch.trade import rulebook, window
from dispatch.trade.spans import Span
from dispatch.trade.work import Veto

ALLOWS, FORBIDS, UNKNOWN = Visit.Sky.ALLOWS, Visit.Sky.FORBIDS, Visit.Sky.UNKNOWN
# How the history begins to tell of a visit that the sky turned against.
FORBIDDEN = "The sky forbids"
# How the fault of a judgement ends that is only waiting to be made anew.
BEING_JUDGED = "and the sky is being judged by that now"
_LEAST = timedelta(minutes=5)


@dataclass(frozen=True, kw_only=True)
class Unknown:
    """Why the sky is not known over a span, and what to do; ``likely``: only too far ahead to be sure."""

    why: str
    then: str
    likely: bool = False


@dataclass(frozen=True, kw_only=True)
class Says:
    """One of `ALLOWS`, `FORBIDS`, `UNKNOWN`, with the reason and its numbers where it does not allow."""

    word: str
    why: str = ""
    likely: bool = False


def of(stage: Stage, asked: Span, now: datetime) -> Says:
    """What the stored sky says of doing a stage over a span."""
    asking = ("sky-says", stage.pk, asked, now)
    return one_moment.once(asking, lambda: _of(stage, asked, now))


def _of(stage: Stage, asked: Span, now: datetime) -> Says:
    broken = _broken(stage, asked)
    against = next((veto for veto in broken if veto.code not in rulebook.MISSING), None)
    if against is not None:
        said = visit_numbers.sentence(stage, against, asked)
        return Says(word=FORBIDS, why=_sentence(said))
    gap = unknown(stage, asked, now)
    if gap is not None:
        return Says(word=UNKNOWN, why=gap.why, likely=gap.likely)
    if broken:
        return Says(word=UNKNOWN, why=_sentence(broken[0].sentence))
    return Says(word=ALLOWS, why=last_answers.told(stage))


def unknown(stage: Stage, asked: Span, now: datetime) -> Unknown | None:
    """Why the sky is not known over a span; None where it was judged by the newest forecast, near enough to it."""
    latest = facts.latest_forecast(stage.job.boat.place, now)
    judged = list(stage.judged.all())
    if windows.against(stage, asked) is None:
        fault = next((row.fault for row in judged if row.fault), "")
        why = fault or "Nobody has judged the sky for this visit"
        soon = why.endswith(BEING_JUDGED)
        then = "Load the page again in a minute." if soon else "Ask the owner."
        return Unknown(why=_sentence(why), then=then)
    gone_by = last_answers.of(stage)
    newest = [row.forecast_id for row in judged if row.plugin not in gone_by]
    if latest is not None and any(row != latest.pk for row in newest):
        return Unknown(
            why="A newer forecast has come in and this visit is not judged by it yet.",
            then="Load the page again in a minute.",
        )
    if latest is not None and stage.family != "any" and _too_old(latest, asked):
        hours = round((asked.start - latest.issued_at) / timedelta(hours=1))
        return Unknown(
            why=f"It lies {hours} h after the forecast was issued; from {rates.limits().likely_hours:.0f} h on it is only likely.",
            then="Look again when a newer one is in.",
            likely=True,
        )
    return None


def span(visit: Visit, now: datetime) -> Span:
    """The span a visit would take: from its hour, or from now once that has passed; what is left of one under way."""
    started, length = visit.stage.started_at, visit.end - visit.start
    if visit.stage.state == Stage.State.UNDER_WAY and started is not None:
        return Span(now, max(now + _LEAST, started + length))
    start = max(now, visit.start)
    return Span(start, start + length)


@transaction.atomic
def mark(stage: Stage) -> None:
    """Mark a posted visit still to come with what the sky says of it now; it is never moved.

    The history tells when the sky turned, with the numbers.
    """
    now = clock.now()
    visit = (
        Visit.objects.filter(stage=stage, end__gt=now)
        .exclude(stage__state=Stage.State.DONE)
        .select_related("stage__job__boat__place", "van_day")
        .first()
    )
    if visit is None:
        return
    says = of(visit.stage, span(visit, now), now)
    Visit.objects.filter(pk=visit.pk).update(sky_says=says.word, spoilt=says.why)
    if (visit.sky_says, visit.spoilt) != (says.word, says.why):
        feeds.later()
        board_mends.later(visit.van_day.plan_id)
    if _is_news(visit.sky_says, says):
        history.write(
            "sky-turned",
            f"job {stage.job.key}",
            _turned(visit, says),
            actor="sky",
            why=says.why,
        )


def _is_news(before: str, says: Says) -> bool:
    """Whether the history tells it: what comes near enough to be sure of and is allowed is what everybody hoped."""
    if says.word == before:
        return False
    return (
        before == FORBIDS
        or says.word == FORBIDS
        or (not says.likely and says.word == UNKNOWN)
    )


def _turned(visit: Visit, says: Says) -> str:
    stage = visit.stage
    zone = ZoneInfo(stage.job.boat.place.time_zone)
    hours = board_words.between(Span(visit.start, visit.end), zone)
    what = f"“{stage.name}” on {stage.job.boat.name}, {hours}"
    said = {
        ALLOWS: f"The sky allows {what}.",
        FORBIDS: f"{FORBIDDEN} {what}.",
        UNKNOWN: f"Whether the sky allows {what}, is not known.",
    }[Visit.Sky(says.word)]
    return f"{said} {says.why}".strip()


def _broken(stage: Stage, asked: Span) -> Sequence[Veto]:
    against = windows.against(stage, asked) or ()
    return rulebook.walls_first(window.judge(asked, against))


def _too_old(latest: Forecast, asked: Span) -> bool:
    likely = timedelta(hours=rates.limits().likely_hours)
    return asked.start - latest.issued_at >= likely


def _sentence(said: str) -> str:
    return f"{said[:1].upper()}{said[1:].rstrip('.')}."
