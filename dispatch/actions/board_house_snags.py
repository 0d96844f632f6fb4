"""Snags of the house's own rules: what a draft breaks of them, and why a posted week was posted all the same."""

from collections.abc import Iterator
from itertools import groupby

from dispatch.actions import house_rules
from dispatch.actions.board import Snag
from dispatch.actions.board_reading import Reading
from dispatch.records.models import WeekPlan

# By the rule that is broken.
_MEND = {
    "minor": "Put somebody of 18 or more on it.",
    "fit-test": "Put somebody there whose fit test is in date, or have it renewed.",
    "hood-hours": "Give one of those visits to another day, or to another hooded team.",
    "start-gap": "Start later, or be back earlier the evening before.",
    "bystander": "Move the other visit to that boat past those hours.",
    "near-isocyanate": "Move the other visit past those hours or to another day; or, where she lies far enough off, post it with that as your reason.",
    "break": "Move a visit so that a break fits between, or post it with your reason.",
    "site-hours": "Move the first or the last visit to another day, or post it with your reason.",
    "no-half-day": "Leave a visit of those days out, or post it with your reason.",
}
_WALL = "Nobody may overrule it."


def of(reading: Reading) -> Iterator[Snag]:
    """One snag a rule, however often it is broken."""
    if reading.plan.state == WeekPlan.State.DRAFT:
        yield from _draft(reading.plan)
    elif reading.plan.pk:
        yield from _posted(reading.plan)


def _draft(plan: WeekPlan) -> Iterator[Snag]:
    broken = house_rules.objections(plan)
    for _, group in groupby(broken, lambda one: (one.strength, one.code)):
        rows = list(group)
        first = rows[0]
        yield Snag(
            weight=98 if first.strength == "wall" else 52,
            subject=first.subject,
            sentence=f"{first.sentence}{_more(len(rows))}",
            mend=f"{_WALL} {_MEND[first.code]}"
            if first.strength == "wall"
            else _MEND[first.code],
            setting="shifts",
            about=f"house:{first.code}",
        )


def _posted(plan: WeekPlan) -> Iterator[Snag]:
    for _, group in groupby(plan.overrides.order_by("code", "id"), lambda o: o.code):
        rows = list(group)
        yield Snag(
            weight=45,
            subject="Posted all the same",
            sentence=f"{rows[0].sentence}{_more(len(rows))} {rows[0].who}: {rows[0].why}",
        )


def _more(count: int) -> str:
    return f" And {count - 1} more like it." if count > 1 else ""
