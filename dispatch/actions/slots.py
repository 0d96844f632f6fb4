"""Spray slots that remain: hours in which a coat without a visit could still be laid this week, by whoever is free first."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from dispatch.actions.board_reading import Reading
from dispatch.records.models import Stage
from dispatch.trade.spans import Span

MOST = 8


@dataclass(frozen=True, kw_only=True)
class Slot:
    """Hours that hold a coat, with minutes to spare, and who is on duty then, able and rides nowhere that day.

    ``free`` may be empty: then somebody would have to give something else up.
    """

    stage: str
    boat: str
    name: str
    span: Span
    minutes: int
    spare: int
    free: tuple[str, ...]


def of(reading: Reading) -> tuple[Slot, ...]:
    """The slots of coats without a visit, as of the plan's forecast: those somebody is free for, then the roomiest."""
    if not reading.answer:
        return ()
    found = sorted(_slots(reading), key=_order)
    return tuple(found[:MOST])


def _order(slot: Slot) -> tuple[bool, int, datetime]:
    return not slot.free, -slot.spare, slot.span.start


def _slots(reading: Reading) -> Iterator[Slot]:
    placed = {stop.get("stage") for row in reading.van_days for stop in row["stops"]}
    chosen = reading.answer.get("chosen", {})
    now = reading.line.minute(reading.now)
    for row in reading.problem["stages"]:
        stage = reading.stages.get(row["id"])
        if stage is None or stage.family != "spray" or row["id"] in placed:
            continue
        if stage.state == Stage.State.DONE or row["variant"] not in (
            None,
            chosen.get(row["job"]),
        ):
            continue
        yield from _of(reading, stage, row, now)


def _of(
    reading: Reading, stage: Stage, row: dict[str, Any], now: int
) -> Iterator[Slot]:
    minutes = min(row["minutes"].values())
    for start, end in row["windows"]:
        for first, last in _days(reading, max(start, now), end):
            if last - first >= minutes:
                yield Slot(
                    stage=row["id"],
                    boat=stage.job.boat.name,
                    name=stage.name,
                    span=reading.span(first, last),
                    minutes=minutes,
                    spare=last - first - minutes,
                    free=tuple(_free(reading, row, first, last)),
                )


def _days(reading: Reading, start: int, end: int) -> Iterator[tuple[int, int]]:
    for first, last in reading.line.days:
        if max(first, start) < min(last, end):
            yield max(first, start), min(last, end)


def _free(reading: Reading, row: dict[str, Any], start: int, end: int) -> Iterator[str]:
    day = next(d for d, (s, e) in enumerate(reading.line.days) if s <= start < e)
    busy = {p for vd in reading.van_days if vd["day"] == day for p in vd["team"]}
    for person in reading.problem["people"]:
        duty = person["duty"][day]
        able = any(
            person["skills"].get(need["skill"], 0) >= need["level"]
            for need in row["needs"]
        )
        kept = person["id"] in busy or person["id"] in row["barred"]
        if able and not kept and duty and duty[0] < end and start < duty[1]:
            yield reading.name(person["id"])
