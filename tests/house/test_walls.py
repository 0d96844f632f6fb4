"""Rooms import only the rooms below them; the contracts stand in pyproject.toml."""

import subprocess
import sys
from pathlib import Path

from tests.house.tree import ROOT


def test_every_wall_stands():
    lint = Path(sys.executable).with_name("lint-imports")
    result = subprocess.run(
        [lint, "--no-cache"], check=False, cwd=ROOT, capture_output=True, text=True
    )
    assert result.returncode == 0, result.stdout + result.stderr
