"""`manage.py outlook`: when each stage in the book may be done this week, and what stands against it."""

from django.core.management.base import BaseCommand, CommandError

from dispatch.actions import outlook
from dispatch.records.models import Outfit


class Command(BaseCommand):
    """Print each boat's stages with their windows, or the reason there are none."""

    help = "Print when each stage may be done in the next seven days, and why not."

    def handle(self, *_: object, **__: object) -> None:
        if not Outfit.objects.exists():
            raise CommandError(
                "There is no outfit yet. Run `manage.py demo`, or enter yours."
            )
        for line in outlook.lines():
            self.stdout.write(line)
