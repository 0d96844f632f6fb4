"""The week plan as frozen values; read from and written to contract JSON."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

FORMAT = "week-plan/2"
PARTS = ("wages", "vans", "late", "finish", "risk", "dropped", "moved")
CODES = (
    "no-window",
    "no-team",
    "no-van",
    "no-trailer",
    "no-supplies",
    "out-of-reach",
    "waits-for",
    "job-blocked",
    "no-room",
    "not-worth",
)


class InvalidPlan(ValueError):  # noqa: N818 - it reads as what it is
    """The plan cannot be read as one; the text is one sentence for a person."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Visit:
    """A team at a stage's place, minutes from the horizon's start."""

    stage: str
    start: int
    end: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Tow:
    """A trailer moved between two places (their ids)."""

    trailer: str
    origin: str
    to: str
    start: int
    end: int


@dataclass(frozen=True, kw_only=True, slots=True)
class VanDay:
    """One van's day: who rides, when it leaves and returns, its stops in driving order."""

    van: str
    day: int
    team: tuple[str, ...]
    depart: int
    back: int
    rest: tuple[int, int] | None
    stops: tuple[Visit | Tow, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Unplaced:
    """A stage without a visit, with a code of the contract and a sentence."""

    stage: str
    code: str
    why: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Plan:
    """A whole week's plan; `cost` has the parts and the total in cents."""

    van_days: tuple[VanDay, ...]
    chosen: Mapping[str, str]
    unplaced: tuple[Unplaced, ...] = ()
    cost: Mapping[str, int] = field(default_factory=dict)
    bound: int | None = None

    def visits(self) -> dict[str, tuple[VanDay, Visit]]:
        """Return each visited stage's van-day and visit (the last, if it has two)."""
        return {
            s.stage: (vd, s)
            for vd in self.van_days
            for s in vd.stops
            if isinstance(s, Visit)
        }


def _whole(row: Mapping[str, Any], key: str) -> int:
    value: int = row[key]
    if type(value) is not int:
        raise InvalidPlan(f"{key!r} is {value!r}; it must be a whole number.")
    return value


def _name(row: Mapping[str, Any], key: str) -> str:
    value: str = row[key]
    if not isinstance(value, str):
        raise InvalidPlan(f"{key!r} is {value!r}; it must be a name.")
    return value


def _stop(row: Mapping[str, Any]) -> Visit | Tow:
    if row["do"] not in ("visit", "tow"):
        raise InvalidPlan(f"A stop does {row['do']!r}; it must be a visit or a tow.")
    start, end = _whole(row, "start"), _whole(row, "end")
    if row["do"] == "visit":
        return Visit(stage=_name(row, "stage"), start=start, end=end)
    return Tow(
        trailer=_name(row, "trailer"),
        origin=_name(row, "from"),
        to=_name(row, "to"),
        start=start,
        end=end,
    )


def _rest(row: Mapping[str, Any]) -> tuple[int, int] | None:
    if row["break"] is None:
        return None
    start, end = row["break"]
    both = {"start of the break": start, "end of the break": end}
    return _whole(both, "start of the break"), _whole(both, "end of the break")


def _team(row: Mapping[str, Any]) -> tuple[str, ...]:
    if not isinstance(row["team"], list | tuple):
        raise InvalidPlan(f"The team is {row['team']!r}; it must be a list of people.")
    return tuple(_name({"team": who}, "team") for who in row["team"])


def read_van_day(row: Mapping[str, Any]) -> VanDay:
    """Return a van-day from contract JSON (an `open` mark is left out)."""
    return VanDay(
        van=_name(row, "van"),
        day=_whole(row, "day"),
        team=_team(row),
        depart=_whole(row, "depart"),
        back=_whole(row, "back"),
        rest=_rest(row),
        stops=tuple(_stop(s) for s in row["stops"]),
    )


def _unplaced(row: Mapping[str, Any]) -> Unplaced:
    stage, code = _name(row, "stage"), _name(row, "code")
    return Unplaced(stage=stage, code=code, why=_name(row, "why"))


def read_plan(raw: Mapping[str, Any]) -> Plan:
    """Return the plan in `raw` (parsed JSON), or raise InvalidPlan."""
    try:
        if raw["format"] != FORMAT:
            raise InvalidPlan(f"The plan says its format is {raw['format']!r}.")
        return Plan(
            van_days=tuple(read_van_day(row) for row in raw["van_days"]),
            chosen={job: _name(raw["chosen"], job) for job in raw["chosen"]},
            unplaced=tuple(_unplaced(row) for row in raw["unplaced"]),
            cost={part: _whole(raw["cost"], part) for part in raw["cost"]},
            bound=None if raw["bound"] is None else _whole(raw, "bound"),
        )
    except KeyError as error:
        raise InvalidPlan(f"The plan lacks {error.args[0]!r}.") from error
    except (TypeError, AttributeError, IndexError, ValueError) as error:
        if isinstance(error, InvalidPlan):
            raise
        raise InvalidPlan(f"The plan has the wrong shape: {error}.") from error


def _write_stop(stop: Visit | Tow) -> dict[str, Any]:
    times = {"start": stop.start, "end": stop.end}
    if isinstance(stop, Visit):
        return {"do": "visit", "stage": stop.stage, **times}
    move = {"trailer": stop.trailer, "from": stop.origin, "to": stop.to}
    return {"do": "tow", **move, **times}


def write_van_day(vd: VanDay) -> dict[str, Any]:
    """Return a van-day as contract JSON."""
    return {
        "van": vd.van,
        "day": vd.day,
        "team": list(vd.team),
        "depart": vd.depart,
        "back": vd.back,
        "break": None if vd.rest is None else list(vd.rest),
        "stops": [_write_stop(s) for s in vd.stops],
    }


def write_plan(plan: Plan) -> dict[str, Any]:
    """Return the plan as contract JSON."""
    return {
        "format": FORMAT,
        "van_days": [write_van_day(vd) for vd in plan.van_days],
        "chosen": dict(plan.chosen),
        "unplaced": [
            {"stage": u.stage, "code": u.code, "why": u.why} for u in plan.unplaced
        ],
        "cost": dict(plan.cost),
        "bound": plan.bound,
    }
