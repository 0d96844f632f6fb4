"""What the house tests look at: the files of the project, as git has or would have them."""

import subprocess
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
DISPATCH = ROOT / "dispatch"
ROOMS = sorted(p for p in DISPATCH.iterdir() if (p / "__init__.py").exists())


@cache
def project_files() -> tuple[Path, ...]:
    """Return every file that is committed or about to be, ignored ones left out."""
    listing = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],  # noqa: S607
        cwd=ROOT,
        check=True,
        capture_output=True,
        text=True,
    ).stdout
    paths = (ROOT / name for name in listing.split("\0") if name)
    return tuple(path for path in paths if path.is_file())


def text_of(path: Path) -> str:
    """Return the file's text, or none when it is not text."""
    try:
        return path.read_text("utf-8")
    except UnicodeDecodeError:
        return ""


def python_files(*rooms: str) -> list[Path]:
    """Return the Python files of these rooms."""
    return sorted(path for room in rooms for path in (DISPATCH / room).rglob("*.py"))
