"""Public vehicle-routing problems from a folder of their own: none of them lies in this repository."""

import csv
import json
import subprocess
import sys
from pathlib import Path
from typing import Any

from tests.planner.weeks import OUTSIDE


def best_known(folder: Path) -> dict[str, int]:
    """Return the best distance known of each instance, in tenths, from the folder's best_known.csv."""
    with (folder / "best_known.csv").open() as file:
        rows = list(csv.DictReader(file))
    return {row["instance"]: round(10 * float(row["distance"])) for row in rows}


def week(path: Path) -> dict[str, Any]:
    """Return an instance as a week problem, by the outside converter."""
    words = [sys.executable, str(OUTSIDE / "vrptw_to_week.py"), str(path)]
    done = subprocess.run(words, capture_output=True, check=True)
    return json.loads(done.stdout)
