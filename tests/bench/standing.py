"""A week planned again after something went wrong: by the outside re-planner, and how much of what was told is kept."""

import json
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

from tests.planner.weeks import OUTSIDE

FIRST_S, QUICK_S, SLOW_S = 20, 1, 20
# Mornings (below 10) and noons (even, above 9), in turn; rain, somebody sick, a van off the road.
TROUBLES = (1, 10, 2, 12, 3, 14)


def replanned(
    problem: dict[str, Any], plan: dict[str, Any], seed: int
) -> dict[str, Any]:
    """Return the outside re-planner's problem: a morning or noon later, with one trouble."""
    with tempfile.TemporaryDirectory() as name:
        files = [Path(name) / "problem.json", Path(name) / "plan.json"]
        for path, value in zip(files, (problem, plan), strict=True):
            path.write_text(json.dumps(value))
        program = [sys.executable, str(OUTSIDE / "replan_week.py")]
        words = [*program, *map(str, files), str(seed)]
        done = subprocess.run(words, capture_output=True, check=True)
    return json.loads(done.stdout)


def kept_pct(problem: dict[str, Any], plan: dict[str, Any]) -> float:
    """Return how many per cent of the told visits stay on their day and within the tolerance."""
    told = problem["standing"]["visits"]
    starts = {
        stop["stage"]: (van_day["day"], stop["start"])
        for van_day in plan["van_days"]
        for stop in van_day["stops"]
        if stop["do"] == "visit"
    }
    kept = sum(_kept(problem, one, starts.get(one["stage"])) for one in told)
    return 100 * kept / len(told) if told else 100.0


def _kept(
    problem: dict[str, Any], told: dict[str, Any], now: tuple[int, int] | None
) -> bool:
    if now is None:
        return False
    first, last = problem["days"][now[0]]
    near = abs(now[1] - told["start"]) <= problem["standing"]["tolerance_min"]
    return near and first <= told["start"] < last
