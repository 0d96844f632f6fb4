"""What a visit waits for, in sentences with its numbers: what is left to dry or to kick, and what is done meanwhile."""

from collections.abc import Iterator, Mapping, Sequence

from dispatch.actions import facts, rates, visit_waits, windows
from dispatch.actions.board_words import lasting
from dispatch.records.models import Stage
from dispatch.trade import cure, waiting
from dispatch.trade.labour import Step
from dispatch.trade.spans import Span
from dispatch.trade.words import Words

Named = tuple[str, Step]


def planned(stage: Stage, span: Span, words: Words) -> Iterator[str]:
    """How a week plans a visit's waits: by the hull in the hours in which it may be put."""
    spans = visit_waits.when(stage, [one.span for one in windows.of(stage, span)])
    hull_c = facts.planned_c(stage, spans)
    if facts.planned_hot(stage, spans):
        air = words.degrees(rates.strain_limits().rest_air_c)
        yield f"The week plans 10 min of rest to every hour of work, less what it waits: in {rates.limits().wait_enough_pct:.0f} % of its hours or more the air is {air} or above."
    if stage.flashes and stage.sheet is not None:
        flash = max(visit_waits.of(stage, hull_c).values(), default=0) / stage.flashes
        yield (
            f"The week plans {flash:.0f} min between the coats: as warm as her hull is, or warmer, in {rates.limits().wait_enough_pct:.0f} % "
            f"of the hours it may be done in, {words.degrees(hull_c)} ({stage.sheet.flash_ref_minutes:.0f} min at {words.degrees(cure.REFERENCE_C)} "
            "by the sheet). Where it is put at a colder hour, the board tells how much longer it waits."
        )
    yield from _lines(stage, hull_c, words)


def lines(stage: Stage, span: Span, words: Words) -> Iterator[str]:
    """What she is left for inside a visit done in a span, and how long a team stands still for it."""
    yield from _lines(stage, facts.coldest_c(stage, (span,)), words)


def _lines(stage: Stage, hull_c: float, words: Words) -> Iterator[str]:
    steps = list(visit_waits.steps(stage))
    for index, (name, step) in enumerate(steps):
        if step.hold_minutes or step.hold_ref_minutes:
            yield _left(name, step, steps[index + 1 :], hull_c, words)
    still = {
        team: visit_waits.idle(stage, int(team), hull_c)
        for team in sorted(stage.minutes, key=int)
    }
    if any(still.values()):
        yield f"Of the visit there is nothing to do for {_by_size(still)}."


def _by_size(still: Mapping[str, float]) -> str:
    """The minutes of teams that wait as long as one another together: 45 min for a team of 1 or 2; 49 min for one of 3."""
    alike: dict[int, list[str]] = {}
    for team, idle in still.items():
        alike.setdefault(round(idle), []).append(team)
    told: list[str] = []
    for minutes, teams in alike.items():
        *most, last = teams
        sizes = f"{', '.join(most)} or {last}" if most else last
        told.append(f"{minutes} min for {'one' if told else 'a team'} of {sizes}")
    return "; ".join(told)


def _left(
    name: str, step: Step, after: Sequence[Named], hull_c: float, words: Words
) -> str:
    took = lasting(waiting.hold_minutes(step, hull_c))
    meanwhile = _meanwhile(after)
    if not step.hold_ref_minutes:
        return f"{name}: she dries {took}; meanwhile {meanwhile}."
    return (
        f"{name}: a fill is left {took} at {words.degrees(hull_c)} ({lasting(step.hold_ref_minutes)} at "
        f"{words.degrees(cure.REFERENCE_C)}) before it is sanded; meanwhile {meanwhile}. Keep water off it until it "
        "has kicked; the fill itself decides."
    )


def _meanwhile(after: Sequence[Named]) -> str:
    found = []
    for name, step in after:
        if not step.meanwhile:
            break
        found.append(name[:1].lower() + name[1:])
    return " and ".join(found) or "nothing on the hull"
