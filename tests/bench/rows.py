"""The rows of the quality table: what is planned, for how long, and which figures come of it."""

import csv
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

from tests.bench import aside, opening, routing, standing
from tests.bench.figures import Figure
from tests.bench.measure import Measured, Run, measured, total_in
from tests.bench.variants import fixed
from tests.planner.weeks import OUTSIDE, made

_FIRST_AND_LAST = (0, -1)


@dataclass(frozen=True, kw_only=True, slots=True)
class Choice:
    """What the caller asked for: planner seeds, seconds multiplied by `scale`, walks, routing folder."""

    seeds: int = 3
    scale: float = 1.0
    workers: int = 1
    routes: Path | None = None

    def run(self, seconds: float, seed: int) -> Run:
        """Return the effort for a row that is to take so many seconds."""
        return Run(
            seconds=max(1, round(seconds * self.scale)),
            workers=self.workers,
            seed=seed,
        )

    def efforts(self, seconds: float) -> list[Run]:
        """Return the effort once for each seed."""
        return [self.run(seconds, seed) for seed in range(1, self.seeds + 1)]


Row = Callable[[str, Choice], Iterator[Figure]]


def known() -> dict[tuple[str, int], int]:
    """Return the best total known of each made week, in cents."""
    with (OUTSIDE / "KNOWN.csv").open() as file:
        rows = list(csv.DictReader(file))
    return {(r["size"], int(r["seed"])): int(r["known_total_cents"]) for r in rows}


def figure(
    name: str, value: float | None, told: tuple[str, str], run: Run, seen: Measured
) -> Figure:
    """Return a figure of a measured run; `told` is its row and its week."""
    return Figure(
        row=told[0],
        week=told[1],
        seed=run.seed,
        seconds=run.seconds,
        name=name,
        value=value if seen.plan else None,
        total=seen.total,
        broken=seen.broken,
        note=seen.note,
    )


def sized(
    size: str, weeks: tuple[int, ...], seconds: int, row: str, choice: Choice
) -> Iterator[Figure]:
    """Made weeks of one size against the totals known."""
    best = known()
    for week in weeks:
        problem = made(size, week)
        for run in choice.efforts(seconds):
            seen, told = measured(problem, run), (row, f"{size}:{week}")
            over = seen.over(best.get((size, week)))
            yield figure("over_known_pct", over, told, run, seen)
            yield figure("first_s", seen.first_s, told, run, seen)
            if any(job["variants"] for job in problem["jobs"]):
                yield _beside_fixed(problem, told, run, seen)


def _beside_fixed(
    problem: dict[str, Any], told: tuple[str, str], run: Run, free: Measured
) -> Figure:
    """By how many per cent choosing freely costs more than the cheaper of all first and all last ways, in as many steps."""
    either = [total_in(fixed(problem, w), run, free.steps) for w in _FIRST_AND_LAST]
    return figure("over_fixed_pct", free.over(min(either)), told, run, free)


def again(
    size: str, weeks: tuple[int, ...], row: str, choice: Choice
) -> Iterator[Figure]:
    """Weeks planned again on mornings and at noons, in a few seconds and in many."""
    for week in weeks:
        problem = made(size, week)
        first = measured(problem, choice.run(standing.FIRST_S, 1))
        for trouble in standing.TROUBLES[: 2 * choice.seeds]:
            told = (row, f"{size}:{week} replan {trouble}")
            quick, slow = (
                choice.run(standing.QUICK_S, 1),
                choice.run(standing.SLOW_S, 1),
            )
            if first.plan is None:
                yield figure("answer_s", None, told, quick, first)
                continue
            later = standing.replanned(problem, first.plan, trouble)
            seen, longer = measured(later, quick), measured(later, slow)
            yield figure("answer_s", seen.took_s, told, quick, seen)
            yield figure("over_longer_pct", seen.over(longer.total), told, quick, seen)
            kept = standing.kept_pct(later, seen.plan) if seen.plan else None
            yield figure("kept_pct", kept, told, quick, seen)


def catalogued(seconds: int, row: str, choice: Choice) -> Iterator[Figure]:
    """Twenty jobs out of the stage catalogue, beside the same search with six times as long."""
    problem, told = aside.catalogue_problem(), (row, "catalogue")
    for run in choice.efforts(seconds):
        seen, longer = (
            measured(problem, one) for one in (run, choice.run(6 * seconds, run.seed))
        )
        yield figure("first_s", seen.first_s, told, run, seen)
        yield figure("over_longer_pct", seen.over(longer.total), told, run, seen)
        yield _beside_fixed(problem, told, run, seen)


def routed(seconds: int, row: str, choice: Choice) -> Iterator[Figure]:
    """Public routing problems with time windows, from the folder given."""
    if choice.routes is None:
        return
    for name, tenths in sorted(routing.best_known(choice.routes).items()):
        problem = routing.week(choice.routes / f"{name}.vrp")
        for run in choice.efforts(seconds):
            seen = measured(problem, run)
            yield figure("over_known_pct", seen.over(tenths), (row, name), run, seen)


def opened(row: str, choice: Choice) -> Iterator[Figure]:
    """The command `solve_week` from its start to its first plan, compiled beforehand."""
    for run in choice.efforts(2):
        seen = opening.measured_command(made("small", 1), run)
        yield figure("first_s", seen.first_s, (row, "small:1"), run, seen)


WEEKS = (1, 2, 3)
ROWS: dict[str, Row] = {
    "start": opened,
    "small-10": partial(sized, "small", WEEKS, 10),
    "medium-10": partial(sized, "medium", WEEKS, 10),
    "medium-60": partial(sized, "medium", WEEKS, 60),
    "large-60": partial(sized, "large", WEEKS, 60),
    "region-60": partial(sized, "region", (1,), 60),
    "small+-10": partial(sized, "small+", WEEKS, 10),
    "medium+-10": partial(sized, "medium+", WEEKS, 10),
    "catalogue-10": partial(catalogued, 10),
    "replan-medium": partial(again, "medium", WEEKS),
    "replan-large": partial(again, "large", (1,)),
    "vrptw-10": partial(routed, 10),
}
