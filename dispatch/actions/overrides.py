"""What was overruled for a stage: what it leaves of the rules that stand against it, and how it is shown."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from dispatch.actions import facts
from dispatch.records.models import Override, Stage
from dispatch.trade import rulebook, window
from dispatch.trade.spans import Span, intersect, subtract
from dispatch.trade.work import Veto

_HAIR = 1e-9


@dataclass(frozen=True, kw_only=True)
class Decided:
    """An override as it is shown; ``holds`` is false once the rule finds worse than was overruled."""

    pk: int
    name: str
    sentence: str
    who: str
    why: str
    at: datetime
    span: Span
    holds: bool


@dataclass(frozen=True, kw_only=True)
class Open:
    """A rule a visit breaks that somebody may overrule: ``by`` is owner or lead."""

    code: str
    name: str
    sentence: str
    by: str


def left(stage: Stage, against: Iterable[Veto]) -> tuple[Veto, ...]:
    """What stands against a stage once what was overruled is taken out of it."""
    rows = list(stage.overrides.all())
    return tuple(_left(rows, against)) if rows else tuple(against)


def decided(stage: Stage) -> tuple[Decided, ...]:
    """What was overruled for a stage, the newest first."""
    known = [facts.veto(row) for row in stage.vetoes.all()]
    return tuple(
        Decided(
            pk=row.pk,
            name=name(row.code),
            sentence=row.sentence,
            who=row.who,
            why=row.why,
            at=row.at,
            span=_span(row),
            holds=not any(_worse(row, veto) for veto in known),
        )
        for row in sorted(
            stage.overrides.all(), key=lambda row: (row.at, row.pk), reverse=True
        )
    )


def told(stage: Stage, asked: Span) -> str:
    """What was overruled for a stage over a span and still holds, with who and why; empty where nothing was."""
    return " ".join(
        f"Overruled by {one.who}: {one.sentence}. Reason: {one.why}"
        for one in decided(stage)
        if one.holds and intersect((one.span,), (asked,))
    )


def open_to(stage: Stage, asked: Span) -> tuple[Open, ...]:
    """The rules a stage breaks over a span that may still be overruled, each once."""
    found: dict[str, Open] = {}
    for veto in rulebook.walls_first(window.judge(asked, standing(stage))):
        by = who_may(veto, asked)
        if by != "wall":
            found.setdefault(
                veto.code,
                Open(
                    code=veto.code,
                    name=name(veto.code),
                    sentence=veto.sentence,
                    by=by,
                ),
            )
    return tuple(found.values())


def _left(rows: Sequence[Override], against: Iterable[Veto]) -> Iterator[Veto]:
    for veto in against:
        holes = [_span(row) for row in rows if _covers(row, veto)]
        for span in subtract((veto.span,), holes) if holes else (veto.span,):
            yield replace(veto, span=span)


def _covers(row: Override, veto: Veto) -> bool:
    return (
        row.code == veto.code
        and veto.strength != "wall"
        and veto.excess <= row.excess + _HAIR
    )


def _worse(row: Override, veto: Veto) -> bool:
    """Whether a rule overruled finds, where it was overruled, more than was known then."""
    same = row.code == veto.code and bool(intersect((veto.span,), (_span(row),)))
    return same and not _covers(row, veto)


def standing(stage: Stage) -> tuple[Veto, ...]:
    """What stands against a stage after all that was overruled."""
    return left(stage, [facts.veto(row) for row in stage.vetoes.all()])


def who_may(veto: Veto, asked: Span) -> str:
    """Who may overrule a veto for a visit: a lead too, where its rule lets a lead go so far over it."""
    rule = rulebook.RULES.get(veto.code)
    if veto.strength != "owner" or rule is None or not rule.lead_minutes:
        return veto.strength
    over = sum((span.length for span in intersect((veto.span,), (asked,))), timedelta())
    return "lead" if over <= timedelta(minutes=rule.lead_minutes) else "owner"


def _span(row: Override) -> Span:
    if row.start is None or row.end is None:
        raise ValueError("An override of a stage has a span.")
    return Span(row.start, row.end)


def name(code: str) -> str:
    """What a rule is called."""
    rule = rulebook.RULES.get(code)
    return rule.name if rule else code.replace("-", " ").capitalize()
