"""`manage.py demo`: the invented scenario, its weather taken in and its stages judged."""

import secrets
import threading
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError

from dispatch.actions import due, outlook, scenario
from dispatch.actions.errors import Refused
from dispatch.actions.scenario_rows import read
from dispatch.cli.embedded import running
from dispatch.records.models import DueWork, Outfit, Person, Place
from dispatch.tasks.sweep import sweep

_LONGEST_SECONDS = 300


class Command(BaseCommand):
    """Load the demo, have a worker judge its week, and print what may be done when."""

    help = "Load the invented scenario, take in its weather and print when each boat may be worked on."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument(
            "--fresh", action="store_true", help="forget everything and start over"
        )
        parser.add_argument(
            "--keep", action="store_true", help="keep what is there (the default)"
        )

    def handle(self, *_: object, **options: Any) -> None:  # noqa: ANN401 - mixed by nature
        if options["fresh"]:
            call_command("flush", interactive=False, verbosity=0)
        if not Outfit.objects.exists():
            self._load()
        for line in outlook.lines():
            self.stdout.write(line)

    def _load(self) -> None:
        folder = Path(settings.BASE_DIR) / "fixtures" / "demo"
        names = [entry.name for entry in read(folder / "people.json")]
        passwords = {name: secrets.token_urlsafe(9) for name in names}
        try:
            scenario.load(folder, passwords=passwords)
        except Refused as refusal:
            raise CommandError(str(refusal)) from refusal
        for person in Person.objects.filter(account__role="owner"):
            self.stdout.write(
                f"Sign-in of {person.name}: {person.key} / {passwords[person.key]}"
            )
        for place in Place.objects.filter(boats__isnull=False).distinct():
            due.put("take-in-forecast", place.key)
        with running():
            self._wait()

    def _wait(self) -> None:
        """Have the worker do what is due, and say how far it is."""
        tick, total = threading.Event(), 0
        for _ in range(_LONGEST_SECONDS):
            left = DueWork.objects.filter(done_at__isnull=True).count()
            total = max(total, left)
            if not left:
                return
            sweep.delay()
            self.stdout.write(f"Judging the week: {total - left} of {total} done")
            tick.wait(2)
        raise CommandError(
            "The worker did not finish judging the week. Run the demo again with --fresh."
        )
