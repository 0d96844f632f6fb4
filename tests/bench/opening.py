"""The keeper's command from its start to its first plan."""

import json
import re
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

from tests.bench.measure import Measured, Run
from tests.planner.weeks import TESTS, faults

_PRICED = re.compile(r"\w+: \d+ cents")


def measured_command(problem: dict[str, Any], run: Run) -> Measured:
    """Run `manage.py solve_week` and note when it tells of its first plan."""
    with tempfile.TemporaryDirectory() as name:
        files = [Path(name) / "problem.json", Path(name) / "plan.json"]
        files[0].write_text(json.dumps(problem))
        words = [sys.executable, "-u", "manage.py", "solve_week", *map(str, files)]
        words += ["--seconds", str(run.seconds), "--seed", str(run.seed)]
        began, first = time.monotonic(), None
        with subprocess.Popen(
            words, cwd=TESTS.parent, stdout=subprocess.PIPE, text=True
        ) as process:
            for line in process.stdout:
                if first is None and _PRICED.match(line):
                    first = time.monotonic() - began
        plan = json.loads(files[1].read_text()) if process.returncode == 0 else None
    wrong = faults(problem, plan) if plan else [f"ended with {process.returncode}"]
    return Measured(
        plan=plan,
        first_s=first,
        took_s=time.monotonic() - began,
        broken=len(wrong),
        note="; ".join(wrong[:2]),
    )
