"""`manage.py first_word`: the word that makes an empty house somebody's."""

from django.core.management.base import BaseCommand

from dispatch.actions import first_run


class Command(BaseCommand):
    """Print the word that the first page of an empty house asks for."""

    help = "Print the word that the first page of an empty house asks for."

    def handle(self, *_: object, **__: object) -> None:
        if first_run.empty():
            self.stdout.write(first_run.word())
        else:
            self.stdout.write("This house has its owner; no word is asked for.")
