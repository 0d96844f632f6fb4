"""A week in which every job's way is chosen beforehand, as if there were no other."""

import copy
from collections.abc import Mapping
from typing import Any


def fixed(problem: dict[str, Any], which: int) -> dict[str, Any]:
    """Return the week with the first (0) or last (-1) variant of each job."""
    jobs = problem["jobs"]
    return in_ways(
        problem, {job["id"]: job["variants"][which] for job in jobs if job["variants"]}
    )


def in_ways(problem: dict[str, Any], kept: Mapping[str, str]) -> dict[str, Any]:
    """Return the week in which the named jobs know their named variant alone."""
    found = copy.deepcopy(problem)
    found["stages"] = [
        stage
        for stage in found["stages"]
        if stage["job"] not in kept or stage["variant"] in (None, kept[stage["job"]])
    ]
    ids = {stage["id"] for stage in found["stages"]}
    for stage in found["stages"]:
        stage["after"] = [one for one in stage["after"] if one["stage"] in ids]
        if stage["job"] in kept:
            stage["variant"] = None
    for job in found["jobs"]:
        job["variants"] = [] if job["id"] in kept else job["variants"]
    return found
