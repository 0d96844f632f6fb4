"""`manage.py demo`: the invented scenario, judged, built and posted."""

import secrets
import threading
from argparse import ArgumentParser
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError

from dispatch.actions import clock, due, planning, scenario, show_board, weather
from dispatch.actions.errors import Refused
from dispatch.actions.scenario_rows import read
from dispatch.cli.embedded import running
from dispatch.records.models import Account, DueWork, Outfit, Person, WeekPlan
from dispatch.tasks.sweep import sweep

_LONGEST_SECONDS = 300
_BUILD_SECONDS = 40


class Command(BaseCommand):
    """Load the demo, have a worker judge and build its week, post it and print it."""

    help = "Load the invented scenario, build and post its week, and print it."

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
        if not WeekPlan.objects.filter(state="standing").exists():
            self._prepare()
        for line in show_board.text(
            show_board.board(WeekPlan.objects.get(state="standing"))
        ):
            self.stdout.write(line)

    def _prepare(self) -> None:
        if not Outfit.objects.exists():
            self._load()
        with running():
            self._wait(
                "Judging the week",
                lambda: not DueWork.objects.filter(done_at__isnull=True).exists(),
            )
            self._build()

    def _load(self) -> None:
        folder = Path(settings.BASE_DIR) / "fixtures" / "demo"
        passwords = {
            entry.name: secrets.token_urlsafe(9)
            for entry in read(folder / "people.json")
        }
        try:
            scenario.load(folder, passwords=passwords)
        except Refused as refusal:
            raise CommandError(str(refusal)) from refusal
        for person in Person.objects.filter(account__isnull=False):
            self.stdout.write(
                f"Sign-in of {person.name}: {person.key} / {passwords[person.key]}"
            )
        for place in weather.places():
            due.put("take-in-forecast", place.key)

    def _build(self) -> None:
        owner = Account.objects.filter(role=Account.Role.OWNER).order_by("pk").first()
        if owner is None:
            raise CommandError("The demo has no owner. Run it again with --fresh.")
        monday = clock.now().astimezone(ZoneInfo(Outfit.objects.get().time_zone)).date()
        monday += timedelta(days=-monday.weekday() % 7)
        plan = planning.ask(monday, by=owner, seconds=_BUILD_SECONDS)
        asked = WeekPlan.objects.filter(pk=plan.pk, state__in=("asked", "building"))
        self._wait("Building the week", lambda: not asked.exists())
        plan.refresh_from_db()
        if plan.state != WeekPlan.State.DRAFT:
            raise CommandError(f"The week could not be built: {plan.fault}")
        planning.post(plan, by=owner)

    def _wait(self, what: str, ready: Callable[[], bool]) -> None:
        """Have the worker do what is due, and say every few seconds that it is under way."""
        tick = threading.Event()
        for _ in range(_LONGEST_SECONDS // 2):
            if ready():
                return
            sweep.delay()
            left = DueWork.objects.filter(done_at__isnull=True).count()
            self.stdout.write(f"{what} ({left} to do) ...")
            tick.wait(2)
        raise CommandError(
            f"{what} was not finished in {_LONGEST_SECONDS} s. Run the demo again with --fresh."
        )
