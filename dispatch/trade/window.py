"""Everything joined: the spans in which work may be done, each with what binds it."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

import numpy as np

from dispatch.trade import aging, conditions, laying, samples
from dispatch.trade.condition import Condition
from dispatch.trade.samples import STEP_MINUTES, Samples
from dispatch.trade.sky import Sky
from dispatch.trade.spans import Span, at_least, intersect, normal, subtract
from dispatch.trade.words import Words
from dispatch.trade.work import Overruled, Veto, Work

_HAIR = 1e-9


def vetoes(
    work: Work, sky: Sky | None, horizon: Span, units: str = "us"
) -> tuple[Veto, ...]:
    """Every span of a horizon in which a piece of work may not be done, by the sky as it is forecast.

    Sampled every 5 minutes. Where several limits are broken at once the first of unknown, rain,
    shade, temperature, moisture, wind and overspray binds; a run with one binding limit is one
    veto, told with its worst numbers. Without a forecast the whole horizon is unknown. An answer for
    hours more than three days after the forecast was issued says that it is only likely.
    """
    words = Words(system=units)
    grid = samples.take(work, sky or Sky(hours=(), issued_at=horizon.start), horizon)
    checks = list(conditions.check(work, grid, words))
    checks += [] if sky is None else aging.check(work, sky, grid)
    during = _runs("during", checks, grid, work.overruled)
    found = (*during, *_ending(work, sky, grid, words))
    return found if sky is None else tuple(_likely(veto, work, sky) for veto in found)


def _likely(veto: Veto, work: Work, sky: Sky) -> Veto:
    """A veto that says so where it lies too far ahead of its forecast to be more than likely."""
    sure_until = sky.issued_at + timedelta(hours=work.limits.likely_hours)
    if veto.code == "unknown" or veto.span.start < sure_until:
        return veto
    return replace(veto, sentence=f"{veto.sentence} (only likely, this far ahead)")


def _ending(work: Work, sky: Sky | None, grid: Samples, words: Words) -> Iterator[Veto]:
    """Judge the ends of visits by the sky after them, which may lie beyond the horizon."""
    if sky is None:
        return
    whole = laying.reach(sky, grid.span)
    later = grid if whole == grid.span else samples.take(work, sky, whole)
    yield from _runs(
        "ending", list(laying.check(work, sky, later, words)), grid, work.overruled
    )


def _runs(
    edge: str,
    found: Sequence[Condition],
    grid: Samples,
    overruled: Sequence[Overruled],
) -> Iterator[Veto]:
    """Turn conditions over a grid into spans, each with the condition that binds in it."""
    if not found:
        return
    found = [_less_overruled(one, grid, overruled) for one in found]
    binding = np.full(len(grid.unix), -1)
    for index in reversed(range(len(found))):
        binding[found[index].fails[: len(binding)]] = index
    edges = np.flatnonzero(np.diff(binding)) + 1
    for first, last in zip([0, *edges], [*edges, len(binding)], strict=True):
        if binding[first] >= 0:
            yield _veto(edge, found[binding[first]], grid, int(first), int(last))


def _less_overruled(
    one: Condition, grid: Samples, overruled: Sequence[Overruled]
) -> Condition:
    """A condition that fails no more where it was overruled, unless it is a wall or worse than was known then."""
    if one.strength == "wall":
        return one
    fails = one.fails.copy()
    for row in overruled:
        if row.code == one.code:
            first, last = row.span.start.timestamp(), row.span.end.timestamp()
            inside = (grid.unix > first - STEP_MINUTES * 60) & (grid.unix < last)
            known = one.excess[: len(grid.unix)] <= row.excess + _HAIR
            fails[: len(grid.unix)] &= ~(inside & known)
    return replace(one, fails=fails)


def _veto(
    edge: str, condition: Condition, grid: Samples, first: int, last: int
) -> Veto:
    worst = first + int(np.argmax(condition.excess[first:last]))
    sentence, numbers = condition.say(worst)
    start = datetime.fromtimestamp(float(grid.unix[first]), UTC)
    end = datetime.fromtimestamp(float(grid.unix[last - 1]), UTC) + timedelta(
        minutes=STEP_MINUTES
    )
    return Veto(
        span=Span(start, min(end, grid.span.end)),
        edge=edge,
        code=condition.code,
        sentence=sentence,
        numbers={
            name: float(value) for name, value in numbers.items() if np.isfinite(value)
        },
        strength=condition.strength,
        excess=float(condition.excess[worst]),
    )


@dataclass(frozen=True, kw_only=True)
class Window:
    """A span in which a whole visit may lie, and the vetoes that end it on either side, where one does."""

    span: Span
    before: Veto | None
    after: Veto | None


def may_do(
    access: Iterable[Span], against: Sequence[Veto], quickest: timedelta
) -> tuple[Window, ...]:
    """The spans of access in which a visit of at least ``quickest`` may lie.

    A visit may not overlap a veto of its duration, and may not end inside a veto of its end: before
    such a span the window closes at its start, after it the next opens ``quickest`` before its end.
    """
    during = [veto for veto in against if veto.edge == "during"]
    ending = [veto for veto in against if veto.edge == "ending"]
    free = subtract(normal(access), [veto.span for veto in during])
    runs = normal(veto.span for veto in ending)
    spans = [piece for span in free for piece in _by_ending(span, runs, quickest)]
    return tuple(
        Window(
            span=span,
            before=_opened_by(against, span.start, quickest),
            after=_closed_by(against, span.end),
        )
        for span in at_least(sorted(set(spans)), quickest)
    )


def _by_ending(span: Span, runs: Sequence[Span], quickest: timedelta) -> Iterator[Span]:
    """Cut a span so that no visit in a piece can end inside a run, if it lasts at least ``quickest``."""
    opens = span.start
    for run in runs:
        if run.end <= span.start or run.start >= span.end:
            continue
        if opens < run.start:
            yield Span(opens, min(run.start, span.end))
        opens = max(opens, run.end - quickest)
    if opens < span.end:
        yield Span(opens, span.end)


def _opened_by(
    against: Sequence[Veto], moment: datetime, quickest: timedelta
) -> Veto | None:
    """The veto that ends where a window opens; one on the end of a visit lets it open ``quickest`` sooner."""
    waits = {"during": timedelta(0), "ending": quickest}
    return next((v for v in against if v.span.end - waits[v.edge] == moment), None)


def _closed_by(against: Sequence[Veto], moment: datetime) -> Veto | None:
    """The veto that begins where a window closes."""
    return next((veto for veto in against if veto.span.start == moment), None)


def judge(span: Span, against: Sequence[Veto]) -> tuple[Veto, ...]:
    """The vetoes that a visit over a span breaks."""
    during = [
        veto
        for veto in against
        if veto.edge == "during" and intersect((veto.span,), (span,))
    ]
    ending = [
        veto
        for veto in against
        if veto.edge == "ending" and veto.span.start < span.end < veto.span.end
    ]
    return (*during, *ending)
