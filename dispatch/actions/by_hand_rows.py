"""Drafts changed by hand, one made of the other: the newest, whether two owners cross, and taking the last one back."""

from datetime import timedelta
from typing import Any

from django.db import transaction
from django.db.models import F

from dispatch.actions import (
    access,
    board_mends,
    board_reading,
    bump_rows,
    clock,
    history,
    still,
)
from dispatch.actions.board_reading import Reading
from dispatch.actions.board_words import between, dated, names
from dispatch.actions.errors import Refused, Stale
from dispatch.records.models import Account, Van, Week, WeekPlan

Row = dict[str, Any]
_OPEN = (WeekPlan.State.DRAFT, WeekPlan.State.STANDING)


class Crossed(Stale):
    """Somebody else was first; ``seen`` and ``now`` are the boat's visits as lines, or of the week those that changed; ``tip`` is the newest plan."""

    def __init__(
        self, tip: WeekPlan, seen: tuple[str, ...], now: tuple[str, ...], what: str
    ) -> None:
        who = tip.asked_by.person.name if tip.asked_by and tip.asked_by.person else None
        who = who or (tip.asked_by.username if tip.asked_by else "the planner")
        at = dated(tip.asked_at, board_reading.names(tip).line.zone)
        super().__init__(
            f"{who} changed {what} at {at}, after you opened the page. Nothing was changed."
        )
        self.tip, self.seen, self.now = tip, seen, now


def newest(week: Week) -> WeekPlan | None:
    """The plan that a change by hand goes on from: the newest draft since what stands, or what stands."""
    rows = list(week.plans.filter(state__in=_OPEN).order_by("-asked_at", "-id"))
    return rows[0] if rows else None


def tip(plan: WeekPlan, job: str) -> WeekPlan:
    """The newest draft, or the standing week, if a boat's visits in it are as they were in the plan that was seen.

    Changes of other boats in between do not matter; without a boat any change does.

    Raises:
        Refused: nothing of the week is a draft or stands.
        Crossed: somebody changed that boat since.
    """
    found = newest(Week.objects.get(pk=plan.week_id))
    if found is None:
        raise Refused("This week has no draft and does not stand. Build it first.")
    if found.pk != plan.pk and _rows(found, job) != _rows(plan, job):
        raise _crossed(found, plan, job)
    return found


def _crossed(found: WeekPlan, plan: WeekPlan, job: str) -> Crossed:
    """Both as lines: a boat's visits whole, of the week only what differs."""
    seen, now = lines(plan, job), lines(found, job)
    if job:
        return Crossed(found, seen, now, "this boat's visits")
    before = tuple(one for one in seen if one not in now)
    after = tuple(one for one in now if one not in seen)
    return Crossed(found, before, after, "the week")


def _rows(plan: WeekPlan, job: str) -> list[tuple[Any, ...]]:
    """A job's visits in a plan, or without one every van-day's team and hours."""
    return sorted(
        (
            row["van"],
            row["day"],
            *row["team"],
            stop["stage"],
            stop["start"],
            stop["end"],
        )
        for row in plan.plan["van_days"]
        for stop in row["stops"]
        if stop["do"] == "visit" and (not job or stop["stage"].startswith(f"{job}."))
    )


def lines(plan: WeekPlan, job: str) -> tuple[str, ...]:
    """A job's visits in a plan, in order of time, as people read them; without a job everybody's, with boat and team."""
    reading = board_reading.names(plan)
    rows = sorted(
        (stop["start"], stop["end"], stop["stage"], row["van"], row["team"])
        for row in plan.plan["van_days"]
        for stop in row["stops"]
        if stop["do"] == "visit" and (not job or stop["stage"].startswith(f"{job}."))
    )
    called = dict(Van.objects.values_list("key", "name"))
    return tuple(
        f"{_boat(reading, job, stage)}{reading.stage_name(stage)}: {between(reading.span(start, end), reading.line.zone)}, {called.get(van, van)}{_team(reading, job, team)}"
        for start, end, stage, van, team in rows
    )


def _boat(reading: Reading, job: str, stage: str) -> str:
    """Whose stage it is, where lines are of more than one boat."""
    row = None if job else reading.stages.get(stage)
    return f"{row.job.boat.name}, " if row else ""


def _team(reading: Reading, job: str, team: list[str]) -> str:
    return "" if job else f", {names([reading.name(one) for one in team])}"


@transaction.atomic
def draft(
    plan: WeekPlan, answer: Row, problem: Row, sentence: str, *, by: Account
) -> WeekPlan:
    """Store a changed plan as a draft made of another; a draft it was made of is set aside till this is taken back.

    Raises:
        Stale: somebody changed the week in this very moment.
    """
    week = plan.week
    if not Week.objects.filter(pk=week.pk, edits=week.edits).update(
        edits=F("edits") + 1
    ):
        raise Stale("Somebody else changed the week in this very moment. Try again.")
    standing = plan.state == WeekPlan.State.STANDING
    # The demo clock may stand still: each change is later than the one it was made of.
    now = max(clock.now(), plan.asked_at + timedelta(microseconds=1))
    made = WeekPlan.objects.create(
        week=week,
        state=WeekPlan.State.DRAFT,
        asked_by=by,
        asked_at=now,
        built_at=now,
        seconds=plan.seconds,
        seed=plan.seed,
        on_version=week.version if standing else plan.on_version,
        zero_at=plan.zero_at,
        problem=problem,
        plan=answer,
        origin=plan,
        by_hand=f"By hand: {sentence}.",
        cause=plan.cause,
    )
    WeekPlan.objects.filter(pk=plan.pk, state=WeekPlan.State.DRAFT).update(
        state=WeekPlan.State.LEFT
    )
    board_mends.later(made.pk)
    history.write(
        "by-hand", f"week {week.starts_on}", f"In a draft: {sentence}.", by=by
    )
    return made


def _made_of(last: WeekPlan | None, plan: WeekPlan) -> bool:
    """Whether a plan came of another by changes by hand."""
    while last is not None and last.by_hand and last.origin is not None:
        last = last.origin
        if last == plan:
            return True
    return False


def earlier(plan: WeekPlan) -> tuple[str, ...]:
    """The changes by hand that stand once the newest of a draft is taken back, the newest first, each as a sentence."""
    found: list[str] = []
    while plan.by_hand and plan.origin is not None:
        plan = plan.origin
        if not plan.by_hand or plan.state != WeekPlan.State.LEFT:
            break
        found.append(said(plan))
    return tuple(found)


def said(plan: WeekPlan) -> str:
    """What was changed by hand, as a sentence."""
    return plan.by_hand.removeprefix("By hand: ")


@transaction.atomic
def undo(plan: WeekPlan, *, by: Account) -> WeekPlan:
    """Take the last change by hand of a draft back; return the plan it was made of. What people were told is untouched.

    Raises:
        Stranger: the account is not the owner's.
        Refused: it is no draft changed by hand, or not the newest one.
    """
    access.owner(by)
    still.refuse()
    origin = plan.origin
    last = newest(plan.week)
    if last != plan and _made_of(last, plan):
        raise Refused(
            "Somebody changed the week after that. Take the newest change back first."
        )
    if plan.state != WeekPlan.State.DRAFT or not plan.by_hand or origin is None:
        raise Refused("There is no change by hand to take back here.")
    if last != plan:
        raise Refused(
            "The week was planned again after that, so there is nothing to take back."
        )
    WeekPlan.objects.filter(pk=plan.pk).update(state=WeekPlan.State.LEFT)
    WeekPlan.objects.filter(pk=origin.pk, state=WeekPlan.State.LEFT).update(
        state=WeekPlan.State.DRAFT
    )
    bump_rows.in_again(origin)
    history.write(
        "undo",
        f"week {plan.week.starts_on}",
        f"Took back: {said(plan)}",
        by=by,
    )
    origin.refresh_from_db()
    return origin


@transaction.atomic
def undo_all(plan: WeekPlan, *, by: Account) -> WeekPlan:
    """Take every change by hand back that a draft is made of, the newest first; return the plan before them.

    Raises:
        Stranger, Refused: as for the last of them; then none is taken back.
    """
    plan = undo(plan, by=by)
    while plan.by_hand and plan.state == WeekPlan.State.DRAFT:
        plan = undo(plan, by=by)
    return plan
