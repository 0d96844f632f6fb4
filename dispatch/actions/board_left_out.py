"""What the plan leaves out, each job's stages under the reason they all hang on."""

from collections.abc import Mapping, Sequence
from typing import Any

from dispatch.actions import outlook
from dispatch.actions.board import LeftOut, LeftStage
from dispatch.actions.board_reading import Reading
from dispatch.actions.planner_words import dated, named
from dispatch.records.models import Stage

Row = Mapping[str, Any]
_FOLLOWERS = ("waits-for", "job-blocked")
_NO_WINDOW = "no-window"


def rows(reading: Reading) -> tuple[LeftOut, ...]:
    """One entry for each reason of each job; what waits for a stage stands under that stage's reason."""
    by_job: dict[str, list[Row]] = {}
    for row in reading.answer.get("unplaced", ()):
        by_job.setdefault(row["stage"].partition(".")[0], []).append(row)
    found = [one for job, left in by_job.items() for one in _of_job(reading, job, left)]
    short = {one.job for one in found if not one.extra}
    return (
        *found,
        *(
            _going_on(reading, job, names)
            for job, names in goes_on(reading).items()
            if job not in short
        ),
    )


def goes_on(reading: Reading) -> Mapping[str, tuple[str, ...]]:
    """By job, the stages that a plan leaves to the next week: those its problem has not, still to do and in no other week."""
    planned = {row["id"] for row in reading.problem.get("stages", ())}
    jobs = {row["id"] for row in reading.problem.get("jobs", ())}
    chosen = reading.answer.get("chosen", {})
    found: dict[str, tuple[str, ...]] = {}
    for name, stage in reading.stages.items():
        job = name.partition(".")[0]
        if job in jobs and name not in planned and _to_come(stage, chosen.get(job, "")):
            found[job] = (*found.get(job, ()), name)
    return found


def _to_come(stage: Stage, way: str) -> bool:
    """Whether a stage of the way chosen is still to be done, and nobody goes to it yet."""
    return (
        stage.state == Stage.State.TO_DO
        and not stage.extra
        and stage.variant in ("", way)
        and getattr(stage, "visit", None) is None
    )


def _going_on(reading: Reading, job: str, names: Sequence[str]) -> LeftOut:
    return LeftOut(
        job=job,
        boat=_boat(reading, job),
        code="next-week",
        why="The job needs more days than this week has left, so it goes on in the next.",
        stages=tuple(LeftStage(stage=n, name=reading.stage_name(n)) for n in names),
        waiting=(),
        extra=False,
        goes_on=True,
    )


def _of_job(reading: Reading, job: str, left: Sequence[Row]) -> list[LeftOut]:
    roots = [row for row in left if row["code"] not in _FOLLOWERS] or [left[0]]
    extras = {row["id"] for row in reading.problem["stages"] if row["extra"]}
    groups: dict[tuple[str, str, bool], list[Row]] = {}
    for row in roots:
        groups.setdefault(
            (row["code"], _why(reading, row), row["stage"] in extras), []
        ).append(row)
    binding = next((key for key in groups if not key[2]), next(iter(groups)))
    waiting = [row for row in left if row not in roots]
    return [
        LeftOut(
            job=job,
            boat=_boat(reading, job),
            code=key[0],
            why=key[1],
            stages=tuple(_stage(reading, row) for row in group),
            waiting=tuple(_stage(reading, row) for row in waiting)
            if key == binding
            else (),
            extra=key[2],
        )
        for key, group in groups.items()
    ]


def _stage(reading: Reading, row: Row) -> LeftStage:
    return LeftStage(stage=row["stage"], name=reading.stage_name(row["stage"]))


def _boat(reading: Reading, job: str) -> str:
    return next((row.boat.name for row in reading.jobs if row.key == job), job)


def _why(reading: Reading, row: Row) -> str:
    """The planner's sentence with names and days of the week; where no hour fits, also what stands against most of them."""
    sentence = dated(reading.line, named(reading.stages, row["why"]))
    stage = reading.stages.get(row["stage"])
    if row["code"] != _NO_WINDOW or stage is None:
        return sentence
    against = outlook.why(stage).rstrip(".")
    return f"{sentence} Longest against it: {against}."
