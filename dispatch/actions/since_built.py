"""What has changed since a draft was built, so that posting it would undo what somebody did."""

from collections.abc import Mapping
from typing import Any

from dispatch.actions import clock, facts, timeline
from dispatch.actions.board_words import dated, lasting
from dispatch.actions.errors import Stale
from dispatch.actions.snapshot_stages import key
from dispatch.records.models import Stage, Van, Visit, WeekPlan


def posted(plan: WeekPlan) -> str:
    """Who posted the week since, and when, in a sentence."""
    standing = plan.week.plans.filter(state=WeekPlan.State.STANDING).first()
    if standing is None or standing.posted_at is None:
        return "The week was posted since this draft was built. Build it again, so that nothing is lost."
    at = dated(standing.posted_at, timeline.of(plan.week).zone)
    what = (
        f" ({standing.by_hand or standing.cause})"
        if standing.cause or standing.by_hand
        else ""
    )
    again = "Plan the rest anew" if plan.rest else "Build it again"
    return f"The week was posted {at}{what}, since this draft was made. {again}, so that nothing is lost."


def refuse(plan: WeekPlan) -> None:
    """Refuse a draft that was built before the minutes of its work changed, or of a standing week that has gone on since.

    Raises:
        Stale: work takes other minutes by now than in the draft; a visit was begun, done or taken for begun since,
            or a van of the draft would have left by now.
    """
    _minutes(plan)
    if plan.built_at is None:
        return
    frozen = {stop["stage"] for stop in _stops(plan, frozen=True)}
    news = Visit.objects.filter(van_day__plan__week=plan.week)
    for visit in news.exclude(stage__state=Stage.State.TO_DO).select_related(
        "stage__job__boat__place"
    ):
        if key(visit.stage) not in frozen and _is_planned(plan, visit.stage):
            raise Stale(_begun(plan, visit.stage))
    _left(plan)


def _minutes(plan: WeekPlan) -> None:
    """Work that nobody was told of yet is planned by the minutes it takes now; what stands keeps the hours it was told."""
    planned = {stop["stage"] for stop in _stops(plan, frozen=False)}
    then = {row["id"]: _hands_on(row) for row in plan.problem.get("stages", ())}
    for stage in facts.open_stages().filter(visit=None, state=Stage.State.TO_DO):
        name, now = key(stage), stage.minutes
        if name in planned & set(then) and then[name] != now:
            raise Stale(_other_minutes(stage, then[name], now))


def _hands_on(row: Mapping[str, Any]) -> dict[str, int]:
    """Minutes of a stage of a problem without its waits, which a newer forecast may change."""
    waits = row.get("waits", {})
    return {size: took - waits.get(size, 0) for size, took in row["minutes"].items()}


def _other_minutes(stage: Stage, then: dict[str, int], now: dict[str, int]) -> str:
    size = next((size for size in now if now[size] != then.get(size)), min(now))
    was, crew = then.get(size), "1 person" if size == "1" else f"{size} people"
    before = f"{was} min in this draft" if was else "not in this draft"
    return (
        f"{stage.name} on {stage.job.boat.name} takes {crew} {now[size]} min by now, {before}: the minutes of work "
        "were changed since it was built. Build the week again, so that nobody runs late."
    )


def _stops(plan: WeekPlan, *, frozen: bool) -> list[dict[str, str]]:
    rows = plan.problem.get("frozen", ()) if frozen else plan.plan["van_days"]
    return [s for row in rows for s in row["stops"] if s["do"] == "visit"]


def _is_planned(plan: WeekPlan, stage: Stage) -> bool:
    return any(stop["stage"] == key(stage) for stop in _stops(plan, frozen=False))


def _begun(plan: WeekPlan, stage: Stage) -> str:
    zone = timeline.of(plan.week).zone
    at = stage.ended_at or stage.started_at
    when = f" {dated(at, zone)}" if at else ""
    what = "done" if stage.state == Stage.State.DONE else "started"
    return (
        f"{stage.name} on {stage.job.boat.name} was {what}{when}, since this draft was made. "
        "Plan the rest anew, so that nothing is lost."
    )


def _left(plan: WeekPlan) -> None:
    """A van that would have left by now has gone by the week that stands, or not at all."""
    line = timeline.of(plan.week)
    now = line.minute(clock.now())
    held = {(row["van"], row["day"]) for row in plan.problem.get("frozen", ())}
    for row in plan.plan["van_days"]:
        if (row["van"], row["day"]) not in held and row["depart"] < now:
            van = Van.objects.filter(key=row["van"]).values_list("name", flat=True)
            raise Stale(
                f"In this draft {van.first() or row['van']} leaves at {dated(line.moment(row['depart']), line.zone)}, "
                f"{lasting(now - row['depart'])} ago. Plan the rest anew from now."
            )
