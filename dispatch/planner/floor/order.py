"""What comes before what, from day to day: rows over the pieces of two stages."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from dispatch.planner.floor.pieces import least, most
from dispatch.planner.problem import After, Stage

if TYPE_CHECKING:
    from dispatch.planner.floor.ledger import Ledger

Rules = Sequence[After]


def add(week: Ledger, stage: Stage) -> None:
    """Add the rows of all that a stage comes after."""
    if stage.id in week.visited or not week.of_stage[stage.id]:
        return
    for rules in _groups(week, stage):
        for mark in _marks(week, stage, first=False):
            _not_before(week, stage, rules, mark)
        if all(rule.max_lag is not None for rule in rules):
            for mark in _marks(week, stage, first=True):
                _not_beyond(week, stage, rules, mark)
        if all(rule.same_van_day for rule in rules):
            for day in {week.slots.pieces[i].day for i in week.of_stage[stage.id]}:
                _same_day(week, stage, rules, day)


def _groups(week: Ledger, stage: Stage) -> Iterator[Rules]:
    """Yield rules that bind always by themselves, and those of a job's variants side by side."""
    ways: dict[tuple[str, str], list[After]] = defaultdict(list)
    for rule in stage.after:
        before = week.problem.stages[rule.stage]
        if before.variant is None or _same_way(before, stage):
            yield [rule]
        else:
            ways[before.job, before.variant].append(rule)
    for job in {job for job, _ in ways}:
        lists = [rules for (other, _), rules in ways.items() if other == job]
        for i in range(max(map(len, lists))):
            yield [rules[i] for rules in lists if i < len(rules)]


def _same_way(before: Stage, stage: Stage) -> bool:
    return before.job == stage.job and before.variant == stage.variant


def _marks(week: Ledger, stage: Stage, *, first: bool) -> list[int]:
    """Return each day's first start of a stage, or the minute after its last."""
    rows = [week.slots.pieces[i] for i in week.of_stage[stage.id]]
    days = sorted({p.day for p in rows})
    if first:
        return [min(p.low for p in rows if p.day == day) for day in days]
    return [max(p.high for p in rows if p.day == day) + 1 for day in days]


def _row(week: Ledger, stage: Stage, rules: Rules, later: Sequence[int]) -> int:
    """Add a row: the pieces of the stage, no more than what its rules will take from it."""
    befores = [week.problem.stages[rule.stage] for rule in rules]
    free = [b for b in befores if b.variant is not None and not _same_way(b, stage)]
    row = week.sums.row(float("-inf"), 1.0 if free else 0.0)
    for before in free:
        week.way[before.job, str(before.variant)].entries[row] = 1.0
    week.sums.entries += [(i, row, 1.0) for i in later]
    return row


def _not_before(week: Ledger, stage: Stage, rules: Rules, mark: int) -> None:
    """Starts before a mark are no more than the others' that leave the lag before it."""
    pieces = week.slots.pieces
    later = [i for i in week.of_stage[stage.id] if pieces[i].high < mark]
    row = _row(week, stage, rules, later)
    for rule in rules:
        before = week.problem.stages[rule.stage]
        until = mark - 1 - least(rule.min_lag)
        done = week.visited.get(before.id)
        if done is not None and done.end <= until:
            week.sums.less(row, -1.0)
        until -= min(before.minutes.values())
        soon = [i for i in week.of_stage[before.id] if pieces[i].low <= until]
        week.sums.entries += [(i, row, -1.0) for i in soon]


def _not_beyond(week: Ledger, stage: Stage, rules: Rules, mark: int) -> None:
    """Starts from a mark on are no more than the others' whose longest lag reaches it."""
    pieces = week.slots.pieces
    later = [i for i in week.of_stage[stage.id] if pieces[i].low >= mark]
    row = _row(week, stage, rules, later)
    rest = week.problem.rest.minutes if week.problem.rest else 0
    for rule in rules:
        before = week.problem.stages[rule.stage]
        since = mark - most([rule.max_lag or 0])
        done = week.visited.get(before.id)
        if done is not None and done.end >= since:
            week.sums.less(row, -1.0)
        since -= max(before.minutes.values()) + rest
        late = [i for i in week.of_stage[before.id] if pieces[i].high >= since]
        week.sums.entries += [(i, row, -1.0) for i in late]


def _same_day(week: Ledger, stage: Stage, rules: Rules, day: int) -> None:
    pieces = week.slots.pieces
    later = [i for i in week.of_stage[stage.id] if pieces[i].day == day]
    row = _row(week, stage, rules, later)
    for rule in rules:
        done = week.visited.get(rule.stage)
        if done is not None and done.day == day:
            week.sums.less(row, -1.0)
        same = [i for i in week.of_stage[rule.stage] if pieces[i].day == day]
        week.sums.entries += [(i, row, -1.0) for i in same]
