"""The week problem as frozen values: whole minutes from the horizon's start, whole cents."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

Minutes = tuple[int, int]
Lag = int | tuple[tuple[int, int, int], ...]


class InvalidProblem(ValueError):  # noqa: N818 - it reads as what it is
    """The problem cannot be planned as written; the text is one sentence for a person."""


def lag_minutes(lag: Lag, end: int) -> int | None:
    """Look a lag up by the minute the earlier visit ends; None where its table is silent."""
    if isinstance(lag, int):
        return lag
    return next((minutes for low, high, minutes in lag if low <= end < high), None)


@dataclass(frozen=True, kw_only=True, slots=True)
class Person:
    """Somebody who works; `duty` has one span or None a day."""

    id: str
    skills: Mapping[str, int]
    driver: bool
    duty: tuple[Minutes | None, ...]
    cents_per_hour: int
    week_regular_min: int
    not_alone: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class Van:
    """A van: where it sleeps, what it holds and when it may be out."""

    id: str
    base: int
    seats: int
    tows: bool
    gear: frozenset[str]
    carries: Mapping[str, int]
    duty: tuple[Minutes | None, ...]
    cents_per_day: int
    cents_per_km: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Trailer:
    """Equipment that stays at a place; `place` is where it stands at minute 0."""

    id: str
    kind: str
    place: int
    towed: bool
    hook_min: int
    unhook_min: int
    factor_pct: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Job:
    """One customer's order on one boat, in one of its variants when it has any."""

    id: str
    boat: str
    promise: int | None
    late_cents_per_hour: int
    finish_cents_per_hour: int
    unfinished_cents: int
    variants: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Need:
    """At least `count` in the team hold `skill` at `level` or above."""

    skill: str
    level: int
    count: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Stay:
    """A kind of trailer that stands by through the visit and for a lag after it."""

    kind: str
    stays_min: Lag


@dataclass(frozen=True, kw_only=True, slots=True)
class After:
    """The stage starts between `min_lag` and `max_lag` after the other one's end."""

    stage: str
    min_lag: Lag
    max_lag: Lag | None
    same_van_day: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class Pin:
    """Exactly this van and this start."""

    van: str
    start: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Stage:
    """One visit's worth of work; `minutes` maps team size to on-site minutes."""

    id: str
    job: str
    variant: str | None
    extra: bool
    exposed: bool
    place: int
    minutes: Mapping[int, int]
    needs: tuple[Need, ...]
    barred: frozenset[str]
    gear: frozenset[str]
    supplies: Mapping[str, int]
    windows: tuple[Minutes, ...]
    risk: tuple[tuple[int, int, int], ...]
    pausable: bool
    trailers: tuple[Stay, ...]
    after: tuple[After, ...]
    hold_min: Lag
    drop_cents: int
    pinned: Pin | None


@dataclass(frozen=True, kw_only=True, slots=True)
class Break:
    """The team's unpaid break: how long, due after how long a day, and when."""

    minutes: int
    after_min: int
    windows: tuple[Minutes, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Standing:
    """What people have been told, and what it costs to tell them otherwise."""

    visits: Mapping[str, int]
    van_days: tuple[Mapping[str, Any], ...]
    day_cents: int
    shift_cents: int
    shift_cents_per_hour: int
    tolerance_min: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Problem:
    """A whole week; places are indexes into the two square matrices."""

    days: tuple[Minutes, ...]
    now: int
    places: tuple[str, ...]
    drive_min: tuple[tuple[int, ...], ...]
    drive_m: tuple[tuple[int, ...], ...]
    people: Mapping[str, Person]
    apart: tuple[tuple[str, str], ...]
    vans: Mapping[str, Van]
    trailers: Mapping[str, Trailer]
    jobs: Mapping[str, Job]
    stages: Mapping[str, Stage]
    rest: Break | None
    standing: Standing | None
    frozen: tuple[Mapping[str, Any], ...] = field(default=())

    def minutes_for(self, stage: Stage, team_size: int) -> int | None:
        """On-site minutes of a team of that size; None when it is too small."""
        fit = [size for size in stage.minutes if size <= team_size]
        return stage.minutes[max(fit)] if fit else None

    def day_of(self, minute: int) -> int | None:
        """Return the index of the day the minute lies in."""
        return next((d for d, (s, e) in enumerate(self.days) if s <= minute < e), None)
