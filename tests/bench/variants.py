"""A week in which every job's way is chosen beforehand: what choosing for oneself must not cost more than."""

import copy
from typing import Any


def fixed(problem: dict[str, Any], which: int) -> dict[str, Any]:
    """Return the week with the first (0) or last (-1) variant of each job, as if there were no other."""
    found = copy.deepcopy(problem)
    kept = {
        job["id"]: job["variants"][which] for job in found["jobs"] if job["variants"]
    }
    found["stages"] = [
        stage
        for stage in found["stages"]
        if stage["variant"] in (None, kept.get(stage["job"]))
    ]
    ids = {stage["id"] for stage in found["stages"]}
    for stage in found["stages"]:
        stage["variant"] = None
        stage["after"] = [one for one in stage["after"] if one["stage"] in ids]
    for job in found["jobs"]:
        job["variants"] = []
    return found
