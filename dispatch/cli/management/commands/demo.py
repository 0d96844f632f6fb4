"""`manage.py demo`: the invented scenario, judged, built and posted."""

import secrets
import threading
from argparse import ArgumentParser
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db.models import QuerySet

from dispatch.actions import (
    clock,
    due,
    house_rules,
    planning,
    scenario,
    show_board,
    weather,
)
from dispatch.actions.errors import Refused
from dispatch.actions.scenario_rows import read
from dispatch.cli import sign_ins
from dispatch.cli.embedded import EmbeddedError, running
from dispatch.records.models import Account, DueWork, Outfit, WeekPlan
from dispatch.tasks.sweep import sweep

_LONGEST_SECONDS = 300
_BUILD_SECONDS = 40
_LOOK_SECONDS, _TELL_EVERY = 2, 5
_INTERRUPTED = 130  # what shells give for Ctrl-C
_SEEDS = (1, 2, 3)
# The invented owner's words, where a draft breaks a rule that is the owner's to overrule.
_WHY = "The demo's owner keeps the others off herself, and asks the lead to watch."
_AGAIN = "Run the demo again with --fresh."


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
        call_command("migrate", interactive=False, verbosity=0)
        _spare_the_real()
        if options["fresh"]:
            call_command("flush", interactive=False, verbosity=0)
        standing = WeekPlan.objects.filter(state="standing").order_by("week__starts_on")
        if not standing.exists():
            self._prepare()
        plan = standing.first()
        if plan is None:
            raise CommandError(f"No week stands. {_AGAIN}")
        for line in (*show_board.text(show_board.board(plan)), "", *sign_ins.lines()):
            self.stdout.write(line)

    def _prepare(self) -> None:
        try:
            with running():
                if not Outfit.objects.exists():
                    self._load()
                self._judge()
                self._build()
        except KeyboardInterrupt:
            raise CommandError(
                "Stopped. Run it again to go on, or with --fresh to start over.",
                returncode=_INTERRUPTED,
            ) from None
        except EmbeddedError as trouble:
            raise CommandError(str(trouble)) from trouble

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
        sign_ins.keep(passwords)
        for place in weather.places():
            due.put("take-in-forecast", place.key)

    def _judge(self) -> None:
        open_rows = DueWork.objects.filter(done_at__isnull=True)
        self._wait(
            "Judging the week",
            lambda: not open_rows.exists(),
            lambda: f"{open_rows.count()} to do",
        )

    def _build(self) -> None:
        owner = Account.objects.filter(role=Account.Role.OWNER).order_by("pk").first()
        if owner is None:
            raise CommandError(f"The demo has no owner. {_AGAIN}")
        monday = clock.now().astimezone(ZoneInfo(Outfit.objects.get().time_zone)).date()
        monday += timedelta(days=-monday.weekday() % 7)
        walls: list[str] = []
        for seed in _SEEDS:
            plan = self._draft(monday, owner, seed)
            broken = house_rules.objections(plan)
            walls = [one.sentence for one in broken if one.strength == "wall"]
            if not walls:
                planning.post(plan, by=owner, why=_WHY if broken else "")
                return
        raise CommandError(f"No draft kept the rules of the house: {walls[0]} {_AGAIN}")

    def _draft(self, monday: date, owner: Account, seed: int) -> WeekPlan:
        """A draft of the week; another seed makes another."""
        plan = planning.ask(monday, by=owner, seconds=_BUILD_SECONDS, seed=seed)
        asked = WeekPlan.objects.filter(pk=plan.pk, state__in=("asked", "building"))
        try:
            self._wait(
                "Building the week", lambda: not asked.exists(), lambda: _far(asked)
            )
        except KeyboardInterrupt:
            planning.stop(plan, by=owner)  # so that the worker need not be cut off
            raise
        plan.refresh_from_db()
        if plan.state != WeekPlan.State.DRAFT:
            raise CommandError(f"The week could not be built: {plan.fault}")
        return plan

    def _wait(
        self, what: str, ready: Callable[[], bool], far: Callable[[], str]
    ) -> None:
        """Have the worker do what is due, and say now and then how far it is."""
        tick = threading.Event()
        for look in range(_LONGEST_SECONDS // _LOOK_SECONDS):
            if ready():
                return
            sweep.delay()
            if look % _TELL_EVERY == 0:
                self.stdout.write(f"{what}: {far()} ...")
                self.stdout.flush()
            tick.wait(_LOOK_SECONDS)
        raise CommandError(f"{what} was not finished in {_LONGEST_SECONDS} s. {_AGAIN}")


def _spare_the_real() -> None:
    """Leave alone a house whose outfit is no demo: its clock is the real one."""
    outfit = Outfit.objects.filter(stands_at__isnull=True).first()
    if outfit is not None:
        raise CommandError(
            f"These are the data of {outfit.name}, not the demo's, and were left as they are. "
            "Set LEEBOARD_DATA to an empty folder for the demo, and DATABASE_URL to nothing."
        )


def _far(plans: QuerySet[WeekPlan]) -> str:
    """How far the planner is with the plan it builds, in few words."""
    line = next(iter(plans.values_list("progress", flat=True)), None) or {}
    if line.get("cost") is None:
        return f"at most {_BUILD_SECONDS} s"
    return (
        f"a week for ${line['cost'] / 100:,.0f}, counting a charge for what it leaves out; "
        "looking for a better one"
    )
