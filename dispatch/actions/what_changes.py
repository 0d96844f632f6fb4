"""What a draft changes in the standing week: for which boat, for which people, who has been told, and what it costs."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import timedelta
from typing import Any, Literal

from dispatch.actions import (
    announcing,
    appointments,
    board_reading,
    change_cost,
    rates,
    slips,
)
from dispatch.actions.board_reading import Reading
from dispatch.actions.board_words import between, names, when
from dispatch.records.models import Job, Notice, Stage, Van, WeekPlan
from dispatch.trade.spans import Span

Row = Mapping[str, Any]
Kind = Literal["moved", "near", "hands", "out", "new"]
_KNOWS_NOTHING = "has not been told of this visit yet."


@dataclass(frozen=True, kw_only=True)
class Change:
    """One visit that changes: as it stands and as the draft has it, and who is to be told once it is taken.

    ``near``: the same hands, at an hour nobody minds; ``hands``: others, then.
    """

    kind: Kind
    job: str
    boat: str
    stage: str
    name: str
    before: str
    after: str
    tell: str

    @property
    def told_otherwise(self) -> bool:
        """Whether a customer holds other words, and not only none yet."""
        return bool(self.tell) and not self.tell.endswith(_KNOWS_NOTHING)


@dataclass(frozen=True, kw_only=True)
class PersonChange:
    """One person's days that change, each as it stands and as the draft has it."""

    name: str
    days: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Changes:
    """All that a draft changes; ``cents`` by part of the cost against the standing week, ``total`` their sum.

    ``cents`` is None where the standing week can no longer be priced.
    """

    visits: tuple[Change, ...]
    people: tuple[PersonChange, ...]
    cents: Mapping[str, int] | None

    @property
    def total(self) -> int:
        """Cents that the draft's week costs more than the standing one, were that kept."""
        return sum((self.cents or {}).values())


@dataclass(frozen=True, kw_only=True)
class _Place:
    span: Span
    van: str
    team: tuple[str, ...]
    day: int


def of(draft: WeekPlan, standing: WeekPlan) -> Changes:
    """What posting a draft would change in what stands; what is done or under way does not change."""
    reading = board_reading.read(draft)
    frozen = change_cost.stages(draft.problem.get("frozen", ()))
    old = {k: v for k, v in _places(reading, standing.plan).items() if k not in frozen}
    new = {k: v for k, v in _places(reading, draft.plan).items() if k not in frozen}
    done = {k for k, s in reading.stages.items() if s.state == Stage.State.DONE}
    order = sorted(
        (old.keys() | new.keys()) - done,
        key=lambda name: (old.get(name) or new[name]).span.start,
    )
    vans = dict(Van.objects.values_list("key", "name"))
    known = vans, slips.told_of(reading.jobs)
    visits = [
        change
        for name in order
        if (change := _change(reading, known, name, old.get(name), new.get(name)))
    ]
    return Changes(
        visits=tuple(visits),
        people=tuple(_people(reading, vans, old, new)),
        cents=change_cost.cents(draft, standing),
    )


def _places(reading: Reading, plan: Row) -> dict[str, _Place]:
    return {
        stop["stage"]: _Place(
            span=reading.span(stop["start"], stop["end"]),
            van=row["van"],
            team=tuple(row["team"]),
            day=row["day"],
        )
        for row in plan["van_days"]
        for stop in row["stops"]
        if stop["do"] == "visit"
    }


def _change(
    reading: Reading,
    known: tuple[Mapping[str, str], Mapping[str, Notice]],
    name: str,
    old: _Place | None,
    new: _Place | None,
) -> Change | None:
    stage = reading.stages.get(name)
    if old == new or stage is None:
        return None
    vans, told = known
    return Change(
        kind=_kind(old, new),
        job=stage.job.key,
        boat=stage.job.boat.name,
        stage=name,
        name=stage.name,
        before=_said(reading, vans, old) if old else "not in the week",
        after=_said(reading, vans, new) if new else "left out",
        tell=_tell(reading, stage.job, told, old, new),
    )


def _kind(old: _Place | None, new: _Place | None) -> Kind:
    if new is None:
        return "out"
    if old is None:
        return "new"
    within = timedelta(minutes=rates.planning().told_within_minutes)
    if abs(old.span.start - new.span.start) > within:
        return "moved"
    return "near" if (old.van, old.team) == (new.van, new.team) else "hands"


def _said(reading: Reading, vans: Mapping[str, str], place: _Place) -> str:
    team = names([reading.name(person) for person in place.team])
    van = vans.get(place.van, place.van)
    return f"{between(place.span, reading.line.zone)}, {van}: {team}"


def _tell(
    reading: Reading,
    job: Job,
    told: Mapping[str, Notice],
    old: _Place | None,
    new: _Place | None,
) -> str:
    """Which customer is to be told otherwise once the draft is posted; nothing where what they know still holds."""
    if old and new and abs(old.span.start - new.span.start) <= slips.LEAST:
        return ""
    customer = job.boat.customer
    if old is None:
        # Taken off before: by a job that was put off, or an appointment that was moved.
        known = appointments.told(job)
        if known is None:
            return ""
    else:
        known = told.get(f"{job.key} visit {reading.line.dates[old.day]}")
    if known is None or known.begins_at is None:
        return f"{customer.name} {_KNOWS_NOTHING}"
    said = f"{customer.name} expects us from {when(known.begins_at, reading.line.zone)}"
    by_hand = (
        ""
        if announcing.reachable(customer)
        else " Call by hand: neither text nor e-mail may go."
    )
    return f"{said} and must be told.{by_hand}"


def _people(
    reading: Reading,
    vans: Mapping[str, str],
    old: Mapping[str, _Place],
    new: Mapping[str, _Place],
) -> Iterator[PersonChange]:
    everybody = {p for place in (*old.values(), *new.values()) for p in place.team}
    for person in sorted(everybody, key=reading.name):
        days = tuple(_days(reading, vans, person, old, new))
        if days:
            yield PersonChange(name=reading.name(person), days=days)


def _days(
    reading: Reading,
    vans: Mapping[str, str],
    person: str,
    old: Mapping[str, _Place],
    new: Mapping[str, _Place],
) -> Iterator[str]:
    for day, on in enumerate(reading.line.dates):
        before, after = (
            _route(reading, vans, rows, person, day) for rows in (old, new)
        )
        if before != after:
            yield f"{on:%A}: {after or 'not out'}; stands: {before or 'not out'}"


def _route(
    reading: Reading,
    vans: Mapping[str, str],
    rows: Mapping[str, _Place],
    person: str,
    day: int,
) -> str:
    """A person's visits of a day in a few words; empty where there are none."""
    mine = sorted(
        (
            (place.span.start, name, place.van)
            for name, place in rows.items()
            if place.day == day and person in place.team
        ),
    )
    if not mine:
        return ""
    boats = dict.fromkeys(
        reading.stages[name].job.boat.name
        for _, name, _ in mine
        if name in reading.stages
    )
    first = mine[0][0].astimezone(reading.line.zone)
    return (
        f"{vans.get(mine[0][2], mine[0][2])}, first {first:%H:%M}, {names(list(boats))}"
    )
