"""What the draft on the board changes in the week that stands, in words for its page."""

from collections.abc import Iterator, Mapping
from typing import Any

from dispatch.actions import begun, rates, timeline, what_changes
from dispatch.records.models import WeekPlan

Context = dict[str, Any]
# More rows would push the board below the first screen.
_FIRST = 4


def of(shown: WeekPlan, standing: WeekPlan | None) -> Context:
    """The page's words for a draft beside a standing week; nothing where there is not both."""
    if standing is None or shown.state != WeekPlan.State.DRAFT or not shown.plan:
        return {"changes_made": None}
    made = what_changes.of(shown, standing)
    stood = dict(_stood(standing))
    seen = [
        {"one": one, "stood": stood.get(one.stage, ())}
        for one in made.visits
        if one.kind != "near"
    ]
    return {
        "changes_made": made,
        "first": seen[:_FIRST],
        "others": seen[_FIRST:],
        "near": [one for one in made.visits if one.kind == "near"],
        "within": round(rates.planning().told_within_minutes),
        "money": {"total": _more(made.total), "parts": parts(made.cents or {})},
        "unheard": begun.unheard(shown.week) if shown.rest else (),
    }


def _stood(standing: WeekPlan) -> Iterator[tuple[str, list[tuple[str, str]]]]:
    """Each visit that stands, with what puts it back there by hand: the draft is taken but for that."""
    line = timeline.of(standing.week)
    for row in standing.plan["van_days"]:
        for stop in row["stops"]:
            if stop["do"] == "visit":
                local = line.moment(stop["start"]).astimezone(line.zone)
                who = [("who", person) for person in row["team"]]
                at = [("day", f"{local:%Y-%m-%d}"), ("at", f"{local:%H:%M}")]
                yield stop["stage"], [("van", row["van"]), *at, *who]


def _more(cents: int) -> str:
    return f"${abs(cents) / 100:,.0f} {'more' if cents >= 0 else 'less'}"


def parts(cents: Mapping[str, int]) -> str:
    """What each part adds or saves, in whole dollars; parts that are none are not told."""
    whole = {name: part for name, part in cents.items() if round(part / 100)}
    return ", ".join(f"{name} {_more(part)}" for name, part in whole.items())
