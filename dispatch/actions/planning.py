"""Ask for a week, build it, stop it, post it."""

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any

from django.db import IntegrityError, transaction

from dispatch.actions import (
    access,
    awaited_sky,
    board_mends,
    board_reading,
    clock,
    due,
    history,
    house_rules,
    least_change,
    overruling,
    planner_words,
    posting,
    since_built,
    snapshot,
    solving,
    still,
    timeline,
)
from dispatch.actions.errors import Refused, Stale
from dispatch.records.models import Account, Outfit, Week, WeekPlan
from dispatch.trade.shifts import Objection

# Slow work: the build of a week that was asked for.
VERB = "build-week"
_WORKERS = 2
_FARTHEST = timedelta(days=366)
_LONGEST = timedelta(days=14)


@transaction.atomic
def ask(
    starts_on: date, *, by: Account | None, seconds: int = 20, seed: int = 1
) -> WeekPlan:
    """Ask for a draft of the week that starts on a date; a task builds it.

    Raises:
        Refused: a draft of that week is being built already, the week has gone by, lies far away or over
            another, or there is no outfit.
    """
    if not Outfit.objects.exists():
        raise Refused("There is no outfit yet. Load the demo, or enter yours.")
    _plannable(starts_on)
    week, _ = Week.objects.get_or_create(starts_on=starts_on)
    timeline.refuse_gone(week)
    try:
        with transaction.atomic():
            plan = WeekPlan.objects.create(
                week=week, asked_by=by, asked_at=clock.now(), seconds=seconds, seed=seed
            )
    except IntegrityError as error:
        raise Refused(
            "This week is being built already. Wait for it, or stop it."
        ) from error
    due.put(VERB, str(plan.pk))
    history.write(
        "ask-week",
        f"week {starts_on}",
        f"Asked for the week of {starts_on:%d %B}.",
        by=by,
    )
    return plan


def _plannable(starts_on: date) -> None:
    """Refuse a week more than a year away, or one that shares days with another."""
    if abs(starts_on - clock.today()) > _FARTHEST:
        raise Refused(
            f"The week of {starts_on:%d %B %Y} is more than a year away. Pick a nearer one."
        )
    around = (starts_on - _LONGEST, starts_on + _LONGEST)
    for other in Week.objects.filter(starts_on__range=around).exclude(
        starts_on=starts_on
    ):
        new = Week(starts_on=starts_on)
        first, second = sorted((new, other), key=lambda week: week.starts_on)
        if first.starts_on + timedelta(days=first.days) > second.starts_on:
            raise Refused(
                f"These days belong to the week of {other.starts_on:%d %B %Y} already. Build that one."
            )


class _Watch:
    """Hears the planner, stores how far it is, and asks whether to stop, all from the caller's own thread."""

    def __init__(self, plan: WeekPlan) -> None:
        self._row = WeekPlan.objects.filter(pk=plan.pk)
        self.heard: Mapping[str, Any] = {}
        self._stored: Mapping[str, Any] = {}

    def hear(self, line: Mapping[str, Any]) -> None:
        """Take the planner's latest line; called from the thread that reads it."""
        self.heard = line

    def wants_stop(self) -> bool:
        """Store the latest line and say whether the owner asked to stop."""
        if self.heard is not self._stored:
            self._stored = self.heard
            self._row.update(progress=dict(self._stored))
        return self._row.filter(stop_asked=True).exists()


def build(plan: WeekPlan) -> None:
    """Build an asked-for plan into a draft; what goes wrong is stored as its fault, never raised away.

    Holds no transaction while the planner works.
    """
    at_work = (WeekPlan.State.ASKED, WeekPlan.State.BUILDING)
    version = Week.objects.values_list("version", flat=True).get(pk=plan.week_id)
    mine = WeekPlan.objects.filter(pk=plan.pk, state__in=at_work)
    begun = {"state": WeekPlan.State.BUILDING, "on_version": version, "progress": {}}
    if not mine.update(**begun):
        return
    watch = _Watch(plan)
    unjudged = list(awaited_sky.boats(plan.week))
    try:
        with solving.started(
            seconds=plan.seconds, workers=_WORKERS, seed=plan.seed
        ) as planner:
            problem = _problem(plan)
            answer = planner.solve(
                problem, on_progress=watch.hear, should_stop=watch.wants_stop
            )
        if plan.rest and plan.origin is not None:
            answer = least_change.settled(problem, answer, plan.origin.plan)
        faults = solving.judge(problem, answer)
    except Refused as refusal:
        fault = planner_words.said(board_reading.read(plan), str(refusal))
        mine.update(state=WeekPlan.State.FAILED, fault=fault, built_at=clock.now())
        return
    mine.update(
        state=WeekPlan.State.FAILED if faults else WeekPlan.State.DRAFT,
        fault=" ".join(faults),
        problem=problem,
        plan=answer,
        progress={**watch.heard, "unjudged": unjudged},
        zero_at=timeline.of(plan.week).zero,
        built_at=clock.now(),
    )
    board_mends.later(plan.pk)


def _problem(plan: WeekPlan) -> dict[str, Any]:
    """The week as it stands now; of a plan of the rest, with what people have been told of it."""
    if plan.rest and plan.origin is not None:
        return snapshot.rest(plan.week, plan.origin)
    return snapshot.of(plan.week)


@transaction.atomic
def stop(plan: WeekPlan, *, by: Account) -> None:
    """Have the planner stop with the best week so far; asked twice, the history has it once."""
    access.owner(by)
    going = WeekPlan.objects.filter(
        pk=plan.pk, state__in=("asked", "building"), stop_asked=False
    )
    if going.update(stop_asked=True):
        told = f"Stopped building the week of {plan.week.starts_on:%d %B}; the best so far is kept."
        history.write("stop-week", f"week {plan.week.starts_on}", told, by=by)


@transaction.atomic
def post(plan: WeekPlan, *, by: Account, why: str = "") -> None:
    """Make a draft the standing week: van-days, visits, holds, notices and history at once.

    What it breaks of the rules of the house is kept with the owner's reason, where the owner may overrule it.

    Raises:
        Stranger: the account is not the owner's.
        Refused: the plan is no draft, or breaks a rule of the house that nobody may overrule, or one
            that the owner may without a reason why.
        Stale: the week was posted since the draft was built.
    """
    access.owner(by)
    still.refuse()
    if not WeekPlan.objects.filter(pk=plan.pk, state=WeekPlan.State.DRAFT).exists():
        raise Refused("Only a draft can be posted. Build the week first.")
    broken = _weighed(plan, why)
    on = Week.objects.filter(pk=plan.week_id, version=plan.on_version)
    if not on.update(version=plan.on_version + 1):
        raise Stale(since_built.posted(plan))
    since_built.refuse(plan)
    WeekPlan.objects.filter(week_id=plan.week_id, state=WeekPlan.State.STANDING).update(
        state=WeekPlan.State.PAST
    )
    WeekPlan.objects.filter(pk=plan.pk).update(
        state=WeekPlan.State.STANDING, posted_at=clock.now()
    )
    told = posting.write(plan)
    board_mends.later(plan.pk)
    overruling.keep_with(plan, broken, by=by, why=why)
    history.write(
        "post-week",
        f"week {plan.week.starts_on}",
        " ".join(
            (
                f"Posted the week of {plan.week.starts_on:%d %B}: {told} visit{'' if told == 1 else 's'}.",
                *(one.sentence for one in broken),
            )
        ),
        by=by,
        why=why if broken else "",
    )


def _weighed(plan: WeekPlan, why: str) -> tuple[Objection, ...]:
    """What a draft breaks of the rules of the house, once it is known that it may be posted all the same."""
    broken = house_rules.objections(plan)
    walls = [one.sentence for one in broken if one.strength == "wall"]
    if walls:
        raise Refused(
            f"Not posted, and nobody may overrule it: {walls[0]} Change who works when and build the week again."
        )
    if broken and not why.strip():
        raise Refused(f"Not posted: {broken[0].sentence} Say why it may be so.")
    return broken
