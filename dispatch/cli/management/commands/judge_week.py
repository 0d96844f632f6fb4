"""`manage.py judge_week IN OUT`: say which rules a week plan breaks."""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from dispatch.actions.errors import Refused
from dispatch.actions.solving import judge
from dispatch.cli.management.commands.solve_week import read


class Command(BaseCommand):
    # It reads and writes files alone: no page, no row and no setting has to be looked over first, which takes a second.
    requires_system_checks = ()
    help = (
        "Judge a week plan: status 1 when it breaks a rule, 2 when it cannot be read."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("problem", type=Path)
        parser.add_argument("plan", type=Path)

    def handle(self, *_: object, **options: Any) -> None:  # noqa: ANN401 - mixed by nature
        try:
            faults = judge(read(options["problem"]), read(options["plan"]))
        except Refused as error:
            raise CommandError(str(error), returncode=2) from error
        if faults:
            raise CommandError("\n".join(faults), returncode=1)
        self.stdout.write("The plan breaks no rule.")
