"""`manage.py solve_week IN OUT`: plan a week problem from a file into a file."""

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from dispatch.actions.errors import Refused
from dispatch.actions.solving import solve


class Command(BaseCommand):
    # It reads and writes files alone: no page, no row and no setting has to be looked over first, which takes a second.
    requires_system_checks = ()
    help = "Plan the week problem in a file; exit status 2 when it is invalid."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("problem", type=Path)
        parser.add_argument("plan", type=Path)
        parser.add_argument("--seconds", type=int, default=20)
        parser.add_argument("--workers", type=int, default=1)
        parser.add_argument("--seed", type=int, default=0)
        parser.add_argument("--from", dest="start", type=Path)

    def handle(self, *_: object, **options: Any) -> None:  # noqa: ANN401 - mixed by nature
        _check(options)
        start = read(options["start"]) if options["start"] else None
        try:
            plan = solve(
                read(options["problem"]),
                seconds=options["seconds"],
                workers=options["workers"],
                seed=options["seed"],
                on_progress=self._tell,
                start_from=start,
            )
        except Refused as error:
            raise CommandError(str(error), returncode=2) from error
        write(options["plan"], plan)
        left = len(plan["unplaced"])
        self.stdout.write(
            f"Total {plan['cost']['total']} cents; {left} stages left out."
        )

    def _tell(self, line: Mapping[str, Any]) -> None:
        self.stdout.write(
            f"{line['phase']}: {line['cost']} cents after {line['steps']} steps"
        )


def _check(options: Mapping[str, Any]) -> None:
    """End with status 2 before the search, when its effort makes no sense or its plan has no folder."""
    for name in ("seconds", "workers"):
        if options[name] < 1:
            raise CommandError(
                f"--{name} is {options[name]}: give 1 or more.", returncode=2
            )
    folder = options["plan"].absolute().parent
    if not folder.is_dir():
        raise CommandError(
            f"There is no folder {folder}: make it, or name another file for the plan.",
            returncode=2,
        )


def write(path: Path, plan: Mapping[str, Any]) -> None:
    """Put the whole plan in its file, or leave the file as it was and end with status 2."""
    part = path.with_name(f"{path.name}.part")
    try:
        part.write_text(json.dumps(plan))
        part.replace(path)
    except OSError as error:
        part.unlink(missing_ok=True)
        raise CommandError(
            f"{path} cannot be written: {error.strerror}.", returncode=2
        ) from error


def read(path: Path) -> dict[str, Any]:
    """Return the JSON object in a file, or end with status 2 and a sentence."""
    try:
        found = json.loads(path.read_text())
    except OSError as error:
        raise CommandError(
            f"{path} cannot be read: {error.strerror}.", returncode=2
        ) from error
    except ValueError as error:
        raise CommandError(f"{path} is not JSON: {error}.", returncode=2) from error
    if not isinstance(found, dict):
        raise CommandError(f"{path} must hold one JSON object.", returncode=2)
    return found
