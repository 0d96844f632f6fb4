"""The catalogue's week, made by another process in a database that is thrown away."""

import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

from tests.planner.weeks import TESTS


def catalogue_problem() -> dict[str, Any]:
    """Return the week problem of twenty jobs out of the stage catalogue."""
    with tempfile.TemporaryDirectory() as folder:
        aside = {
            "LEEBOARD_DATA": folder,
            "DATABASE_URL": f"sqlite:///{folder}/week.sqlite3",
        }
        path = Path(folder) / "problem.json"
        code = f"from tests.bench.catalogue_week import write; write({str(path)!r})"
        for words in (["migrate", "-v", "0"], ["shell", "-v", "0", "-c", code]):
            subprocess.run(
                [sys.executable, "manage.py", *words],
                cwd=TESTS.parent,
                env=os.environ | aside,
                check=True,
                capture_output=True,
            )
        return json.loads(path.read_text())
