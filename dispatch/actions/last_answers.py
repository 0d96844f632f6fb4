"""What a plugin told last of a stage: gone by while it rests after failures, with its age and wider margins.

A plugin that fails leaves a stage unknown. One that failed so often that it rests is not asked at all for a while;
till then what it told last counts, as long as nothing of the stage has changed since.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from django.db import transaction
from django.utils import timezone

from dispatch.actions import board_words, clock, due, facts, one_moment, rates
from dispatch.records.models import Judged, PluginState, Sheet, Stage, Veto
from dispatch.trade import rulebook, work
from dispatch.trade.limits import Limits
from dispatch.trade.spans import Span

VERB = "ask-plugin-again"
_SOON = timedelta(minutes=5)
_HOUR = timedelta(hours=1)


@transaction.atomic
def failed(stage: Stage, state: PluginState, fault: str) -> None:
    """Keep why a plugin told nothing of a stage beside what it told last, and have it asked again later."""
    now = clock.now()
    row, _ = Judged.objects.get_or_create(
        stage=stage,
        plugin=state.name,
        defaults={"since": now, "until": now, "at": now},
    )
    Judged.objects.filter(pk=row.pk).update(fault=fault, at=now)
    rests = PluginState.objects.values_list("resting_until", flat=True).get(pk=state.pk)
    soon = timezone.now() + _SOON
    due.put(VERB, state.name, due_at=max(rests or soon, soon))


def ask_again(plugin: str) -> None:
    """Have every open stage that a plugin told nothing of judged again."""
    for stage in facts.open_stages().filter(
        pk__in=Judged.objects.filter(plugin=plugin).exclude(fault="").values("stage")
    ):
        due.put("judge-stage", str(stage.pk))


def of(stage: Stage) -> Mapping[str, datetime]:
    """The plugins that rest whose last answer counts for a stage, and when each gave it."""
    rows = [row for row in stage.judged.all() if row.fault and row.answered_at]
    rest = _resting() if rows else ()
    return {
        row.plugin: row.answered_at
        for row in rows
        if row.answered_at and row.plugin in rest
    }


def vetoes(
    stage: Stage, span: Span, gone_by: Mapping[str, datetime]
) -> Iterator[work.Veto]:
    """A stage's stored vetoes; those of plugins that rest are wider the older they are.

    Past the age at which two-part is not laid unasked they forbid it for the whole span.
    """
    limits = rates.limits()
    for row in stage.vetoes.all():
        age = _age(gone_by, row)
        yield facts.veto(row) if age is None else _wider(facts.veto(row), limits, age)
    for plugin, at in gone_by.items():
        yield from _too_old(stage, span, plugin, (clock.now() - at) / _HOUR, limits)


def told(stage: Stage) -> str:
    """Which answers are gone by while their plugins rest, and when each was given; empty where there are none."""
    zone = ZoneInfo(stage.job.boat.place.time_zone)
    return " ".join(
        f"{plugin} rests after failures; what it told {board_words.dated(at, zone)} counts meanwhile, with wider margins the older it is."
        for plugin, at in of(stage).items()
    )


def _resting() -> frozenset[str]:
    """Plugins that rest now, by the machine's clock."""
    rows = PluginState.objects.filter(enabled=True, resting_until__gt=timezone.now())
    return one_moment.once(
        "resting plugins", lambda: frozenset(rows.values_list("name", flat=True))
    )


def _age(gone_by: Mapping[str, datetime], row: Veto) -> float | None:
    at = gone_by.get(row.plugin)
    return None if at is None else (clock.now() - at) / _HOUR


def _wider(veto: work.Veto, limits: Limits, age_hours: float) -> work.Veto:
    """A veto that begins sooner and ends later, by as much as the margin before rain grows at that age."""
    more = timedelta(
        minutes=(limits.stretch(age_hours) - 1) * limits.rain_margin_minutes
    )
    if not more:
        return veto
    minutes = round(more / timedelta(minutes=1))
    return replace(
        veto,
        span=Span(veto.span.start - more, veto.span.end + more),
        sentence=f"{veto.sentence} (told {age_hours:.0f} h ago, so {minutes} min wider on both sides)",
    )


def _too_old(
    stage: Stage, span: Span, plugin: str, age_hours: float, limits: Limits
) -> Iterator[work.Veto]:
    if stage.sheet is None or stage.sheet.kind != Sheet.Kind.TWO_PART:
        return
    if age_hours > limits.ask_hours:
        yield work.Veto(
            span=span,
            edge="during",
            code="old-forecast",
            sentence=f"{plugin} rests after failures and told this {age_hours:.0f} h ago; past {limits.ask_hours:.0f} h two-part is not sprayed by it without asking the owner",
            numbers={"age_hours": age_hours, "limit_hours": limits.ask_hours},
            strength=rulebook.strength("old-forecast"),
        )
