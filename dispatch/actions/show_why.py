"""Why a stage may be done when it may: its hours, and everything that stands against the rest, with the numbers."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from dispatch.actions import (
    board_left_out,
    board_reading,
    clock,
    compared,
    facts,
    last_answers,
    overrides,
    place_rules,
    pot_life,
    rates,
    readings,
    setting_subjects,
    why_cure,
    why_waits,
    windows,
)
from dispatch.actions.board_words import lasting
from dispatch.actions.compared import Line
from dispatch.actions.errors import Refused
from dispatch.actions.overrides import Decided, Open
from dispatch.actions.snapshot_stages import key
from dispatch.records.models import Outfit, Stage, Veto, WeekPlan
from dispatch.trade import comparing, rulebook
from dispatch.trade import work as trade_work
from dispatch.trade.spans import Span
from dispatch.trade.words import Words

There = Callable[[Span, str], tuple[str, str] | None]
STRENGTHS: Mapping[str, str] = {
    "wall": "Nobody may overrule it",
    "owner": "The owner may overrule it, with a reason",
    "lead": "The crew's lead may overrule it on site",
}


@dataclass(frozen=True, kw_only=True)
class Hours:
    """A span in which the whole visit may lie, and what opens and closes it (empty: the place's own hours)."""

    span: Span
    before: str
    after: str


@dataclass(frozen=True, kw_only=True)
class Against:
    """One thing that stands against the stage over a span."""

    span: Span
    code: str
    sentence: str
    numbers: tuple[tuple[str, str], ...]
    strength: str
    ending: bool
    source: str


@dataclass(frozen=True, kw_only=True)
class Why:
    """A stage's hours and what stands against the others; ``fault`` says why nothing is known."""

    stage: str
    name: str
    boat: str
    place: str
    place_key: str
    zone: ZoneInfo
    quickest_minutes: int
    rule: str
    issued_at: datetime | None
    fault: str
    last_told: str
    planned: Span | None
    left_out: str
    hours: tuple[Hours, ...]
    against: tuple[Against, ...]
    may_overrule: tuple[Open, ...]
    decided: tuple[Decided, ...]
    readings: tuple[str, ...]
    mixing: tuple[str, ...]
    waits: tuple[str, ...]
    film: tuple[str, ...]
    compared: tuple[Line, ...]


def stage_named(name: str) -> Stage:
    """The stage by its name in a week problem, as ``j1.port``.

    Raises:
        Refused: there is none.
    """
    job, _, own = name.partition(".")
    found = (
        Stage.objects.filter(job__key=job, key=own)
        .select_related("job__boat__place", "sheet")
        .first()
    )
    if found is None:
        raise Refused(f"There is no stage called {name}. Open it from the board.")
    return found


def why(stage: Stage, plan: WeekPlan | None, span: Span) -> Why:
    """Everything known of a stage's hours from now to the end of a span, and what a plan made of it."""
    start = max(span.start, clock.now())
    ahead = Span(start, span.end) if start < span.end else span
    judged = stage.judged.select_related("forecast")
    gone_by = last_answers.of(stage)
    faults = (row.fault for row in judged if row.plugin not in gone_by)
    fault = next(filter(None, faults), "")
    issued = [row.forecast.issued_at for row in judged if row.forecast]
    words = Words(system=Outfit.objects.get().units)
    rows = stage.vetoes.filter(start__lt=ahead.end, end__gt=ahead.start)
    there = _ranges(stage, ahead, words)
    return Why(
        stage=key(stage),
        name=stage.name,
        boat=stage.job.boat.name,
        place=stage.job.boat.place.name,
        place_key=stage.job.boat.place.key,
        zone=ZoneInfo(stage.job.boat.place.time_zone),
        quickest_minutes=facts.work(stage, ahead, rates.limits()).quickest_minutes,
        rule=_rule(stage),
        issued_at=max(issued, default=None),
        fault=fault.rstrip(".") if judged else "nobody has judged it yet",
        last_told=last_answers.told(stage),
        planned=_planned(stage, plan),
        left_out=_left_out(stage, plan),
        hours=tuple(
            Hours(
                span=found.span,
                before=found.before.sentence if found.before else "",
                after=found.after.sentence if found.after else "",
            )
            for found in windows.of(stage, ahead)
        ),
        against=(
            *(_rule_of(veto, stage) for veto in place_rules.against(stage, ahead)),
            *(_against(row, words, there) for row in rows),
        ),
        may_overrule=_may_overrule(stage),
        decided=overrides.decided(stage),
        readings=tuple(readings.lines(stage.job.boat, clock.now(), words)),
        mixing=tuple(_mixing(stage, _planned(stage, plan), words)),
        waits=()
        if stage.state == Stage.State.DONE
        else tuple(why_waits.planned(stage, span, words)),
        film=_film(stage, _planned(stage, plan), words),
        compared=compared.of(stage, planned, words)
        if (planned := _planned(stage, plan))
        else (),
    )


def _mixing(stage: Stage, planned: Span | None, words: Words) -> Iterator[str]:
    """Of mixing for a stage that is still to come, in its planned hours, else in the next."""
    if stage.state == Stage.State.DONE:
        return
    now = clock.now()
    yield from pot_life.lines(
        stage, planned or Span(now, now + timedelta(hours=2)), words
    )


def _film(stage: Stage, planned: Span | None, words: Words) -> tuple[str, ...]:
    """How the moments of its film come about, laid when it was laid, or at the end of its planned hours."""
    at = why_cure.laid_at(stage, planned.end if planned else None)
    return why_cure.lines(stage, at, words) if at else ()


def _may_overrule(stage: Stage) -> tuple[Open, ...]:
    """What its posted visit breaks and somebody may overrule; none once it is done or past."""
    visit = getattr(stage, "visit", None)
    if visit is None or stage.state == Stage.State.DONE or visit.end <= clock.now():
        return ()
    return overrides.open_to(stage, Span(visit.start, visit.end))


def _rule(stage: Stage) -> str:
    if stage.sheet is None:
        return setting_subjects.limits_of(stage.family)
    return f"the product sheet of {stage.sheet.name}"


def _planned(stage: Stage, plan: WeekPlan | None) -> Span | None:
    if plan is None or plan.zero_at is None:
        return None
    for day in plan.plan.get("van_days", ()):
        for stop in day["stops"]:
            if stop.get("stage") == key(stage):
                start, end = (
                    plan.zero_at + timedelta(minutes=stop[edge])
                    for edge in ("start", "end")
                )
                return Span(start, end)
    return None


def _left_out(stage: Stage, plan: WeekPlan | None) -> str:
    """The reason the stage is left out for; where it only waits, the reason of what it waits for."""
    if plan is None or not plan.plan:
        return ""
    name = key(stage)
    for left in board_left_out.rows(board_reading.read(plan)):
        if any(one.stage == name for one in left.stages):
            return left.why
        if any(one.stage == name for one in left.waiting):
            first = ", ".join(one.name for one in left.stages)
            return f"It waits for what is left out before it: {first}. {left.why}"
    return ""


def _rule_of(veto: trade_work.Veto, stage: Stage) -> Against:
    return Against(
        span=veto.span,
        code=veto.code,
        sentence=veto.sentence,
        numbers=(),
        strength=STRENGTHS[veto.strength],
        ending=False,
        source=f"{rulebook.source(veto.code)} {stage.job.boat.place.name}.",
    )


def _ranges(stage: Stage, ahead: Span, words: Words) -> There:
    """What a rule's number comes to over the hours of a veto, by the newest forecast."""
    forecast = facts.latest_forecast(stage.job.boat.place, clock.now())
    work = facts.work(stage, ahead, rates.limits())
    return comparing.ranges(work, facts.sky_of(forecast, ahead), ahead, words)


def _numbers(row: Veto, words: Words, there: There) -> tuple[tuple[str, str], ...]:
    """The numbers of all its hours where the rule compares one, else of its worst moment."""
    told = tuple(_number(name, row.numbers[name], words) for name in row.numbers)
    found = None
    if row.edge == Veto.Edge.DURING:
        found = there(Span(row.start, row.end), row.code)
    if found is None:
        return told
    return found, *(one for one in told if one[0] == "limit")


def _against(row: Veto, words: Words, there: There) -> Against:
    return Against(
        span=Span(row.start, row.end),
        code=row.code,
        sentence=row.sentence,
        numbers=_numbers(row, words, there),
        strength=STRENGTHS.get(row.strength, row.strength),
        ending=row.edge == Veto.Edge.ENDING,
        source=rulebook.source(row.code) or f"The plugin {row.plugin}.",
    )


def _number(name: str, value: float, words: Words) -> tuple[str, str]:
    """A compared number with its name and unit, in the outfit's units."""
    if name == "spare_minutes" and value < 0:
        return "too late by", lasting(value)
    what, _, unit = name.rpartition("_")
    return _CALLED.get(what, what.replace("_", " ") or unit), _said(unit, value, words)


def _said(unit: str, value: float, words: Words) -> str:
    spoken: dict[str, Callable[[float], str]] = {
        "c": words.degrees,
        "k": words.difference,
        "ms": words.speed,
        "m": words.distance,
        "mm": words.rain,
        "ml": words.volume,
    }
    if unit in spoken:
        return spoken[unit](value)
    if unit == "minutes":
        return lasting(value)
    if unit == "deg":
        return f"{value:.0f}°"
    return f"{value:.0f} {_PLAIN.get(unit, unit)}"


_CALLED: Mapping[str, str] = {
    "rh": "humidity",
    "rain_prob": "chance of rain",
    "tail": "levels for",
    "rest": "rests for",
    "late": "rain-safe later than that by",
    "spare": "time to spare",
    "margin": "margin wanted",
    "reach": "may carry",
    "age": "age of the forecast",
}
_PLAIN: Mapping[str, str] = {"pct": "%", "h": "h", "hours": "h"}
