"""`manage.py new_plugin NAME`: a plugin that works, with its README and its test, to begin from."""

import re
from argparse import ArgumentParser
from pathlib import Path
from string import Template
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError

_NAME = re.compile(r"[a-z][a-z0-9]*(_[a-z0-9]+)*")
_LONGEST = 40
_TEMPLATES = Path(__file__).parent.parent.parent / "new_plugin"
# template -> where it goes inside a folder of plugins, and inside a distribution of its own
_BESIDE = {
    "init.txt": "plugins/$name/__init__.py",
    "plugin.txt": "plugins/$name/plugin.py",
    "readme.txt": "plugins/$name/README.md",
    "test.txt": "tests/plugins/test_$name.py",
}
_APART = {
    "init.txt": "$package/__init__.py",
    "plugin.txt": "$package/plugin.py",
    "readme.txt": "README.md",
    "test.txt": "tests/test_$name.py",
    "pyproject.txt": "pyproject.toml",
}


class Command(BaseCommand):
    """Write the files of a new plugin; nothing that is there already is touched."""

    help = "Write a plugin that works, with a README and a test, to begin from."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("name", help="small letters, digits and underscores")
        parser.add_argument(
            "--apart",
            metavar="FOLDER",
            help="write it as a distribution of its own, to be installed by pip",
        )

    def handle(self, *_: object, **options: Any) -> None:  # noqa: ANN401 - mixed by nature
        name, apart = options["name"], options["apart"]
        if not _NAME.fullmatch(name) or len(name) > _LONGEST:
            raise CommandError(
                f"{name!r} is no name for a plugin: use small letters, digits and underscores, at most {_LONGEST}, as dew_alarm."
            )
        root = Path(apart) if apart else settings.BASE_DIR
        package = f"leeboard_{name}" if apart else f"plugins.{name}"
        files = _filled(_APART if apart else _BESIDE, name, package)
        _write(root, files)
        for path in files:
            self.stdout.write(f"Wrote {root / path}")
        self.stdout.write(_next(name, root if apart else None))


def _filled(paths: dict[str, str], name: str, package: str) -> dict[str, str]:
    """Each file's path and text."""
    words = {"name": name, "package": package, "title": name.replace("_", " ")}
    words["class_name"] = words["title"].title().replace(" ", "")
    words["test"] = Template(paths["test.txt"]).substitute(words)
    return {
        Template(path).substitute(words): Template(
            (_TEMPLATES / template).read_text()
        ).substitute(words)
        for template, path in paths.items()
    }


def _write(root: Path, files: dict[str, str]) -> None:
    """Write all of them, or none where one is there."""
    there = [path for path in files if (root / path).exists()]
    if there:
        raise CommandError(f"{root / there[0]} is there already. Take another name.")
    for path, text in files.items():
        (root / path).parent.mkdir(parents=True, exist_ok=True)
        (root / path).write_text(text)


def _next(name: str, apart: Path | None) -> str:
    if apart:
        return f"Next: pip install {apart}, restart the service, and turn {name} on under Plugins."
    return (
        f"Next: pytest tests/plugins/test_{name}.py, then turn {name} on under Plugins."
    )
