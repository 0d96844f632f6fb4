"""A built week in plain lines: each van's day, and what is left out with its reason."""

from collections.abc import Iterator, Mapping
from typing import Any

from dispatch.actions import timeline
from dispatch.records.models import Equipment, Person, Place, Stage, Van, WeekPlan

Row = Mapping[str, Any]


def lines(plan: WeekPlan) -> Iterator[str]:
    """The week's days in order, then the boats that are left out, each with the first binding reason."""
    line, names = timeline.of(plan.week), _names()
    for row in sorted(
        plan.plan["van_days"], key=lambda day: (day["day"], day["depart"])
    ):
        team = ", ".join(names[key] for key in row["team"])
        yield f"{line.dates[row['day']]:%a %d %b}  {names[row['van']]}: {team}"
        for stop in row["stops"]:
            start, end = (
                line.moment(stop[edge]).astimezone(line.zone)
                for edge in ("start", "end")
            )
            yield f"    {start:%H:%M}-{end:%H:%M}  {_stop(stop, names)}"
    yield from _left_out(plan, names)
    yield f"Cost {plan.plan['cost']['total'] / 100:,.2f}, of it left out {plan.plan['cost']['dropped'] / 100:,.2f}."


def _stop(stop: Row, names: Mapping[str, str]) -> str:
    if stop["do"] == "visit":
        return names[stop["stage"]]
    return f"move {names[stop['trailer']]} from {names[stop['from']]} to {names[stop['to']]}"


def _left_out(plan: WeekPlan, names: Mapping[str, str]) -> Iterator[str]:
    told = set()
    for row in plan.plan["unplaced"]:
        job = row["stage"].partition(".")[0]
        if job not in told and row["code"] != "waits-for":
            told.add(job)
            yield f"Left out  {names[row['stage']]}: {row['why']}"


def _names() -> dict[str, str]:
    """What people call everything a plan names by its key."""
    found = {
        key: name
        for model in (Person, Place, Van)
        for key, name in model.objects.values_list("key", "name")
    }
    found |= dict(Equipment.objects.values_list("key", "name"))
    for stage in Stage.objects.select_related("job__boat"):
        found[f"{stage.job.key}.{stage.key}"] = f"{stage.job.boat.name}: {stage.name}"
    return found
