"""Reads a week problem from contract JSON, and refuses with one clear sentence."""

from collections.abc import Mapping

from dispatch.planner.check_input import check
from dispatch.planner.plan import InvalidPlan, read_van_day
from dispatch.planner.problem import (
    After,
    Break,
    InvalidProblem,
    Job,
    Need,
    Person,
    Pin,
    Problem,
    Stage,
    Standing,
    Stay,
    Trailer,
    Van,
)
from dispatch.planner.shapes import (
    Raw,
    by_id,
    counts,
    duty,
    flag,
    matrix,
    name,
    names,
    read_lag,
    span,
    whole,
)

FORMAT = "week-problem/2"


def read_problem(raw: object) -> Problem:
    """Return the problem in `raw` (parsed JSON), or raise InvalidProblem."""
    if not isinstance(raw, Mapping):
        raise InvalidProblem("The week problem must be one JSON object.")
    if raw.get("format") != FORMAT:
        raise InvalidProblem(
            f'The problem says its format is {raw.get("format")!r}; this planner reads "{FORMAT}".'
        )
    try:
        problem = _problem(raw)
        check(problem)
    except KeyError as error:
        raise InvalidProblem(f"The problem lacks {error.args[0]!r}.") from error
    except (TypeError, ValueError, AttributeError, IndexError) as error:
        if isinstance(error, InvalidProblem):
            raise
        raise InvalidProblem(
            f"A value in the problem has the wrong shape: {error}."
        ) from error
    return problem


def _problem(raw: Raw) -> Problem:
    days = tuple(span(d, "A day of the week") for d in raw["days"])
    if not days:
        raise InvalidProblem("The week has no days; give it at least one.")
    ids = tuple(name(x, "id") for x in raw["places"])
    at = {key: index for index, key in enumerate(ids)}
    if len(at) != len(ids):
        raise InvalidProblem("Two places have the same id.")
    size = len(ids)
    return Problem(
        days=days,
        now=whole(raw["now"], "The minute `now`"),
        places=ids,
        drive_min=matrix(raw["drive_min"], size, "The matrix drive_min"),
        drive_m=matrix(raw["drive_m"], size, "The matrix drive_m"),
        people=by_id(raw["people"], lambda r: _person(r, len(days)), "people"),
        apart=tuple((a, b) for a, b in raw["apart"]),
        vans=by_id(raw["vans"], lambda r: _van(r, len(days), at), "vans"),
        trailers=by_id(raw["trailers"], lambda r: _trailer(r, at), "trailers"),
        jobs=by_id(raw["jobs"], _job, "jobs"),
        stages=by_id(raw["stages"], lambda r: _stage(r, at), "stages"),
        rest=_rest(raw["break"], len(days)),
        standing=_standing(raw["standing"]),
        frozen=tuple(_van_day(row, "frozen") for row in raw["frozen"]),
    )


def _place(key: str, at: Mapping[str, int], what: str) -> int:
    if key not in at:
        raise InvalidProblem(
            f"{what} names the place {key!r}, which the problem does not list."
        )
    return at[key]


def _person(r: Raw, days: int) -> Person:
    who = f"Person {r['id']}"
    return Person(
        id=name(r, "id"),
        skills=counts(r["skills"], f"{who}: level of"),
        driver=flag(r, "driver"),
        duty=duty(r["duty"], days, f"{who}: duty"),
        cents_per_hour=whole(r["cents_per_hour"], f"{who}: cents_per_hour"),
        week_regular_min=whole(r["week_regular_min"], f"{who}: week_regular_min"),
        not_alone=flag(r, "not_alone"),
    )


def _van(r: Raw, days: int, at: Mapping[str, int]) -> Van:
    what = f"Van {r['id']}"
    return Van(
        id=name(r, "id"),
        base=_place(r["base"], at, what),
        seats=whole(r["seats"], f"{what}: seats"),
        tows=flag(r, "tows"),
        gear=frozenset(names(r, "gear")),
        carries=counts(r["carries"], f"{what}: carries"),
        duty=duty(r["duty"], days, f"{what}: duty"),
        cents_per_day=whole(r["cents_per_day"], f"{what}: cents_per_day"),
        cents_per_km=whole(r["cents_per_km"], f"{what}: cents_per_km"),
    )


def _trailer(r: Raw, at: Mapping[str, int]) -> Trailer:
    what = f"Trailer {r['id']}"
    return Trailer(
        id=name(r, "id"),
        kind=name(r, "kind"),
        place=_place(r["place"], at, what),
        towed=flag(r, "towed"),
        hook_min=whole(r["hook_min"], f"{what}: hook_min"),
        unhook_min=whole(r["unhook_min"], f"{what}: unhook_min"),
        factor_pct=whole(r["factor_pct"], f"{what}: factor_pct"),
    )


def _job(r: Raw) -> Job:
    what = f"Job {r['id']}"
    promise = r["promise"]
    return Job(
        id=name(r, "id"),
        boat=name(r, "boat"),
        promise=None if promise is None else whole(promise, f"{what}: promise"),
        late_cents_per_hour=whole(
            r["late_cents_per_hour"], f"{what}: late_cents_per_hour"
        ),
        finish_cents_per_hour=whole(
            r["finish_cents_per_hour"], f"{what}: finish_cents_per_hour"
        ),
        unfinished_cents=whole(r["unfinished_cents"], f"{what}: unfinished_cents"),
        variants=tuple(names(r, "variants")),
    )


def _stage(r: Raw, at: Mapping[str, int]) -> Stage:
    what = f"Stage {r['id']}"
    pin = r["pinned"]
    return Stage(
        id=name(r, "id"),
        job=name(r, "job"),
        variant=r["variant"],
        extra=flag(r, "extra"),
        exposed=flag(r, "exposed"),
        place=_place(r["place"], at, what),
        minutes={int(k): whole(v, f"{what}: minutes") for k, v in r["minutes"].items()},
        needs=tuple(_need(n, what) for n in r["needs"]),
        barred=frozenset(names(r, "barred")),
        gear=frozenset(names(r, "gear")),
        supplies=counts(r["supplies"], f"{what}: supplies"),
        windows=tuple(span(w, f"{what}: a window") for w in r["windows"]),
        risk=tuple(
            (int(s), int(e), whole(c, f"{what}: risk")) for s, e, c in r["risk"]
        ),
        pausable=flag(r, "pausable"),
        trailers=tuple(
            Stay(
                kind=t["kind"], stays_min=read_lag(t["stays_min"], f"{what}: stays_min")
            )
            for t in r["trailers"]
        ),
        after=tuple(_after(a, what) for a in r["after"]),
        hold_min=read_lag(r["hold_min"], f"{what}: hold_min"),
        drop_cents=whole(r["drop_cents"], f"{what}: drop_cents"),
        pinned=None
        if pin is None
        else Pin(van=pin["van"], start=whole(pin["start"], f"{what}: pinned start")),
    )


def _need(r: Raw, what: str) -> Need:
    return Need(
        skill=name(r, "skill"),
        level=whole(r["level"], f"{what}: level of {r['skill']}"),
        count=whole(r["count"], f"{what}: count of {r['skill']}"),
    )


def _after(r: Raw, what: str) -> After:
    high = r["max_lag"]
    return After(
        stage=name(r, "stage"),
        min_lag=read_lag(r["min_lag"], f"{what}: min_lag after {r['stage']}"),
        max_lag=None
        if high is None
        else read_lag(high, f"{what}: max_lag after {r['stage']}"),
        same_van_day=flag(r, "same_van_day"),
    )


def _rest(r: Raw | None, days: int) -> Break | None:
    if r is None:
        return None
    windows = tuple(span(w, "The break's window") for w in r["windows"])
    if len(windows) != days:
        raise InvalidProblem(
            f"The break lists {len(windows)} windows, but the week has {days} days."
        )
    return Break(
        minutes=whole(r["minutes"], "The break's minutes"),
        after_min=whole(r["after_min"], "The break's after_min"),
        windows=windows,
    )


def _van_day(row: Raw, what: str) -> Raw:
    """Return a van-day as it was given, once it can be read as one; a frozen one may lack its return."""
    try:
        read_van_day({"back": 0, **row} if what == "frozen" else row)
    except InvalidPlan as error:
        raise InvalidProblem(f"In a {what} van-day, {error}") from error
    return row


def _standing(r: Raw | None) -> Standing | None:
    if r is None:
        return None
    return Standing(
        visits={
            name(v, "stage"): whole(v["start"], f"The told start of {v['stage']}")
            for v in r["visits"]
        },
        van_days=tuple(_van_day(row, "standing") for row in r["van_days"]),
        day_cents=whole(r["day_cents"], "standing: day_cents"),
        shift_cents=whole(r["shift_cents"], "standing: shift_cents"),
        shift_cents_per_hour=whole(
            r["shift_cents_per_hour"], "standing: shift_cents_per_hour"
        ),
        tolerance_min=whole(r["tolerance_min"], "standing: tolerance_min"),
    )
