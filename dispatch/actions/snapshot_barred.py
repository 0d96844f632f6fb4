"""Who may not do a stage of a week, and the hours that leaves: a fit test that ends within the week bars from then on.

A week problem bars somebody from a stage for the whole week. So a test that outlasts the stage's own hours bars nobody;
one that does not bars its wearer where others can do without, else the stage keeps the hours up to the end of it.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, time, timedelta

from dispatch.actions import barred, fit_tests
from dispatch.actions.timeline import Timeline
from dispatch.records.models import Person, Stage
from dispatch.trade.spans import Span, intersect

_ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, kw_only=True)
class Left:
    """The keys of those who may not do a stage, and its hours in which all others may."""

    barred: list[str]
    spans: list[Span]


def of(
    line: Timeline, hands: Sequence[Person], stage: Stage, spans: Sequence[Span]
) -> Left:
    """Who is barred from a stage with these hours; the most of them that somebody can be found for."""
    whole = _until(line, hands, stage, spans, _last(line, spans))
    if not barred.two_part(stage) or _doable(stage, hands, whole):
        return whole
    sooner = (
        _until(line, hands, stage, spans, day)
        for day in sorted(set(_ends(hands)), reverse=True)
        if line.dates[0] <= day < _last(line, spans)
    )
    return next(
        (one for one in sooner if one.spans and _doable(stage, hands, one)), whole
    )


def holds(line: Timeline, person: Person, first: date) -> dict[str, int]:
    """Somebody's skills by level: hoods whose test holds on the first day that is left, all others through the week."""
    return {
        skill.name: skill.level
        for skill in person.skills.all()
        if fit_tests.holds(
            skill, first if skill.name in fit_tests.FITTED else line.dates[-1]
        )
    }


def _last(line: Timeline, spans: Sequence[Span]) -> date:
    """The last day of a stage's hours; of the week where it has none."""
    ends = [span.end.astimezone(line.zone).date() for span in spans]
    return min(max(ends), line.dates[-1]) if ends else line.dates[-1]


def _ends(hands: Sequence[Person]) -> Iterator[date]:
    for person in hands:
        for skill in person.skills.all():
            if skill.name in fit_tests.FITTED and skill.fit_test_until:
                yield skill.fit_test_until


def _until(
    line: Timeline,
    hands: Sequence[Person],
    stage: Stage,
    spans: Sequence[Span],
    day: date,
) -> Left:
    """Who is barred, and what is left of the hours, up to the end of a day."""
    over = line.moment(line.at(day + _ONE_DAY, time(0)))
    before = [Span(line.zero, over)] if over > line.zero else []
    first = line.dates[0]
    return Left(
        barred=sorted(one.key for one in hands if barred.why(stage, one, first, day)),
        spans=list(intersect(spans, before)),
    )


def _doable(stage: Stage, hands: Sequence[Person], left: Left) -> bool:
    """Whether those who are not barred hold every skill it needs, as often as it needs them."""
    able = [one for one in hands if one.key not in left.barred]
    return all(
        sum(_holds(one, need["skill"], need["level"]) for one in able) >= need["count"]
        for need in stage.needs
    )


def _holds(person: Person, name: str, level: int) -> bool:
    return any(
        skill.name == name and skill.level >= level for skill in person.skills.all()
    )
