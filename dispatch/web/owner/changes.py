"""What the draft on the board changes in the week that stands, in words for its page."""

from typing import Any

from dispatch.actions import begun, rates, what_changes
from dispatch.records.models import WeekPlan

Context = dict[str, Any]


def of(shown: WeekPlan, standing: WeekPlan | None) -> Context:
    """The page's words for a draft beside a standing week; nothing where there is not both."""
    if standing is None or shown.state != WeekPlan.State.DRAFT or not shown.plan:
        return {"changes_made": None}
    made = what_changes.of(shown, standing)
    return {
        "changes_made": made,
        "near": [one for one in made.visits if one.kind == "near"],
        "within": round(rates.planning().told_within_minutes),
        "money": {"total": _more(made.total), "parts": _parts(made)},
        "unheard": begun.unheard(shown.week) if shown.rest else (),
    }


def _more(cents: int) -> str:
    return f"${abs(cents) / 100:,.0f} {'more' if cents >= 0 else 'less'}"


def _parts(made: what_changes.Changes) -> str:
    return ", ".join(
        f"{name} {_more(cents)}" for name, cents in (made.cents or {}).items()
    )
