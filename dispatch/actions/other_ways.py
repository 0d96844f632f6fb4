"""The owner has a job done another way in a week: turned, under a roof, as she lies. Asking changes nothing; doing makes a draft."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from dispatch.actions import (
    access,
    board_reading,
    by_hand_rows,
    moves,
    snapshot_air,
    snapshot_stages,
    still,
)
from dispatch.actions.board_reading import Reading
from dispatch.actions.board_words import between
from dispatch.actions.by_hand import Answer
from dispatch.actions.errors import Refused
from dispatch.actions.planner_words import said
from dispatch.actions.turns import TURNED
from dispatch.records.models import Account, Job, Pin, Stage, WeekPlan

Row = dict[str, Any]
_COVERS = {
    Stage.Cover.OPEN: "in the open",
    Stage.Cover.SCREENS: "behind side-screens",
    Stage.Cover.ROOF: "under a roof",
}


@dataclass(frozen=True, kw_only=True)
class Way:
    """One way of doing a job: what asks for it, how she stands then, what it would do; ``here`` where the plan has it so."""

    key: str
    name: str
    stands: str
    here: bool
    answer: Answer | None = None


def of(plan: WeekPlan, job: Job) -> tuple[Way, ...]:
    """The ways a job may be done in a plan, the chosen one first; none where there is one alone."""
    chosen = plan.plan.get("chosen", {}).get(job.key)
    ways = offered(plan, job)
    ways = ways if len(ways) > 1 else ()
    found = (_way(job, way, here=way == chosen) for way in ways)
    return tuple(sorted(found, key=lambda one: not one.here))


def offered(plan: WeekPlan, job: Job) -> tuple[str, ...]:
    """The ways a plan was free to have a job done in; none where the job has no ways, or none is open."""
    rows: list[Row] = plan.problem.get("jobs", [])
    found = (row["variants"] for row in rows if row["id"] == job.key)
    return tuple(next(found, ()))


def lays(plan: WeekPlan, job: Job) -> bool:
    """Whether a plan has a visit that its way of doing a job asks for: one that leaves the job out has her no way at all."""
    way = plan.plan.get("chosen", {}).get(job.key)
    asked = {snapshot_stages.key(one) for one in job.stages.all() if one.variant == way}
    days: list[Row] = plan.plan.get("van_days", [])
    return any(stop.get("stage") in asked for day in days for stop in day["stops"])


def _way(job: Job, way: str, *, here: bool) -> Way:
    asks, stands = _said(job, way)
    return Way(key=way, name=asks, stands=stands, here=here)


def tried(plan: WeekPlan, job: Job) -> tuple[Way, ...]:
    """What each other way would do to the week; nothing is stored. Runs the planner in a process of its own for a second or two.

    Raises:
        Refused: the plan is not built or cannot be read, a visit of hers is made fast, or the planner did not answer.
    """
    others = [one for one in of(plan, job) if not one.here]
    return tuple(_tried(plan, job, others))


def take(plan: WeekPlan, job: Job, way: str, *, by: Account) -> WeekPlan:
    """Make a draft with a job done another way; nobody is told until it is posted.

    Raises:
        Stranger: the account is not the owner's.
        Refused: it cannot be, or everything is held still.
        Crossed: somebody else changed that boat's visits since.
    """
    access.owner(by)
    still.refuse()
    tip = by_hand_rows.tip(plan, job.key)
    found = [one for one in of(tip, job) if one.key == way and not one.here]
    if not found:
        raise Refused(
            f"{job.boat.name} has it that way already, or cannot be done so this week. Nothing was changed."
        )
    (one,) = _tried(tip, job, found)
    answer = one.answer
    if answer is None or answer.plan is None:
        why = answer.why_not if answer else ()
        raise Refused(" ".join((f"{one.name}: not possible.", *why)))
    week = snapshot_air.without(moves.as_of_now(tip))
    return by_hand_rows.draft(tip, answer.plan, week, answer.sentence, by=by)


def name(job: Job, way: str) -> str:
    """A way as the owner asks for it."""
    return _said(job, way)[0]


def _said(job: Job, way: str) -> tuple[str, str]:
    """A way as the owner asks for it, and how she stands then."""
    stages = [one for one in job.stages.all() if one.variant == way]
    coats = [one for one in stages if one.panels or one.product_ml]
    heading = next((one.heading_true_deg for one in coats), None)
    cover = Stage.Cover(next((one.cover for one in coats), Stage.Cover.OPEN))
    if way == TURNED:
        to = f" to {heading:03.0f}° true" if heading is not None else ""
        return f"Turn her{to}", f"turned{to}"
    if cover == Stage.Cover.ROOF:
        return "Cover her with a roof", "under a roof"
    if any("little-gun" in one.gear for one in stages):
        return f"Little gun, {_COVERS[cover]}", f"by the little gun, {_COVERS[cover]}"
    return f"As she lies, {_COVERS[cover]}", f"as she lies, {_COVERS[cover]}"


def _tried(plan: WeekPlan, job: Job, ways: list[Way]) -> Iterator[Way]:
    pin = Pin.objects.filter(stage__job=job).select_related("stage").first()
    if pin is not None:
        raise Refused(
            f"{pin.stage.name} of {job.boat.name} is made fast. Cast it off first."
        )
    if not ways:
        return
    problem = snapshot_air.without(moves.as_of_now(plan))
    asked = {"problem": problem, "plan": plan.plan, "job": job.key}
    rows = moves.put_question(asked | {"ways": [one.key for one in ways]})
    reading = board_reading.names(plan)
    for one, row in zip(ways, rows, strict=True):
        answer = _answer(reading, f"{job.boat.name}: {one.name}", row)
        yield replace(one, answer=answer)


def _answer(reading: Reading, sentence: str, row: Row) -> Answer:
    why_not = tuple(said(reading, line) for line in row["why_not"])
    slides = _slides(reading, row) if row["plan"] else ()
    return Answer(
        sentence=sentence,
        cents=row["cents"],
        slides=tuple(slides),
        lost=tuple(_named(reading, stage) for stage in row["lost"]),
        why_not=why_not,
        plan=row["plan"],
    )


def _slides(reading: Reading, row: Row) -> Iterator[str]:
    moved, zone = set(row["moved"]), reading.line.zone
    for van_day in row["plan"]["van_days"]:
        for stop in van_day["stops"]:
            if stop.get("stage") in moved:
                span = reading.span(stop["start"], stop["end"])
                yield f"{_named(reading, stop['stage'])}: {between(span, zone)}"


def _named(reading: Reading, key: str) -> str:
    stage: Stage | None = reading.stages.get(key)
    return f"{stage.job.boat.name}, {stage.name}" if stage else key
