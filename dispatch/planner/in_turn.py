"""Whether a job's stages can follow one another in their windows at all: proven that they cannot, or not said.

Who does them, where from and with what is left aside; a stage takes what its quickest team needs.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from dispatch.planner.alone import windows_on
from dispatch.planner.around import when
from dispatch.planner.problem import Lag, Minutes, Problem, Stage


@dataclass(frozen=True, kw_only=True, slots=True)
class Clash:
    """The stage that no window is left for, and why, with the numbers."""

    stage: str
    sentence: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Ends:
    """When a stage can end at the earliest and at the latest."""

    soonest: int
    latest: int


def clash(problem: Problem, stages: Iterable[Stage]) -> Clash | None:
    """Return the first stage that cannot follow those before it; None where none is proven.

    `stages` are a job's, of one variant; what was done or is under way keeps its times.
    """
    known = frozen_visits(problem)
    ends: dict[str, Ends] = {}
    for stage in _in_order({s.id: s for s in stages}):
        windows = [known[stage.id]] if stage.id in known else _windows(problem, stage)
        found = _ends(problem, stage, windows, ends)
        if isinstance(found, Clash):
            return found
        ends[stage.id] = found
    return None


def frozen_visits(problem: Problem) -> dict[str, Minutes]:
    """Return the start and the end of each visit that is done or under way."""
    return {
        stop["stage"]: (stop["start"], stop["end"])
        for van_day in problem.frozen
        for stop in van_day["stops"]
        if stop["do"] == "visit"
    }


def _in_order(stages: Mapping[str, Stage]) -> Iterable[Stage]:
    """Yield the stages, each after those it waits for; a circle ends it."""
    done: set[str] = set()
    while ready := [
        s
        for s in stages.values()
        if s.id not in done
        and all(a.stage in done or a.stage not in stages for a in s.after)
    ]:
        yield from ready
        done |= {s.id for s in ready}


def _windows(problem: Problem, stage: Stage) -> list[Minutes]:
    days = range(len(problem.days))
    return sorted(w for day in days for w in windows_on(problem, stage, day))


def _ends(
    problem: Problem, stage: Stage, windows: list[Minutes], ends: Mapping[str, Ends]
) -> Ends | Clash:
    """Return when a stage can end, given when those before it can."""
    quickest = min(stage.minutes.values())
    if len(windows) == 1:  # what is frozen takes what it took
        quickest = min(quickest, windows[0][1] - windows[0][0])
    sooner, after = _soonest(stage, ends, problem)
    latest, within = _latest(stage, ends)
    left = [(max(s, sooner), e) for s, e in windows]
    fit = [(s, e) for s, e in left if e - s >= quickest and s <= latest]
    if fit:
        return Ends(
            soonest=min(s for s, _ in fit) + quickest, latest=max(e for _, e in fit)
        )
    late = [(s, e) for s, e in left if e - s >= quickest]
    if late and within:
        return Clash(
            stage=stage.id, sentence=_too_late(problem, stage, within, latest, late)
        )
    return Clash(
        stage=stage.id, sentence=_too_soon(problem, stage, after, sooner, windows)
    )


def _soonest(
    stage: Stage, ends: Mapping[str, Ends], problem: Problem
) -> tuple[int, str]:
    """Return the least start that the stages before it leave, and which of them."""
    found = [
        (
            ends[a.stage].soonest
            + max(_least(a.min_lag), _least(problem.stages[a.stage].hold_min)),
            a.stage,
        )
        for a in stage.after
        if a.stage in ends
    ]
    return max(found, default=(problem.now, ""))


def _latest(stage: Stage, ends: Mapping[str, Ends]) -> tuple[int, str]:
    """Return the last start that the stages before it leave, and which of them."""
    found = [
        (ends[a.stage].latest + _most(a.max_lag), a.stage)
        for a in stage.after
        if a.stage in ends and a.max_lag is not None
    ]
    return min(found, default=(10**9, ""))


def _least(lag: Lag) -> int:
    return lag if isinstance(lag, int) else min(minutes for *_, minutes in lag)


def _most(lag: Lag) -> int:
    return lag if isinstance(lag, int) else max(minutes for *_, minutes in lag)


def _too_soon(
    problem: Problem, stage: Stage, after: str, sooner: int, windows: list[Minutes]
) -> str:
    quickest, last = (
        min(stage.minutes.values()),
        max((e for _, e in windows), default=0),
    )
    if not after:
        return f"{stage.id} has no window of {quickest} minutes"
    return (
        f"{stage.id} cannot start before {when(problem, sooner)}, as it comes after {after}, and no window "
        f"of {quickest} minutes is left then (the last closes {when(problem, last)})"
    )


def _too_late(
    problem: Problem, stage: Stage, within: str, latest: int, left: list[Minutes]
) -> str:
    opens = min(s for s, _ in left)
    return (
        f"{stage.id} must start by {when(problem, latest)} to be in time after {within}, "
        f"and cannot before {when(problem, opens)}"
    )
