"""A report that a phone sends again, for it never heard the answer, is taken once."""

from collections.abc import Callable

from django.db import transaction

from dispatch.actions import clock
from dispatch.actions.errors import Refused
from dispatch.records.models import CrewReport, Person

_WORD_MOST = 60


@transaction.atomic
def report(word: str, person: Person, take: Callable[[], object]) -> None:
    """Take a report, unless it came before under the word its phone gave it; without a word it always is new.

    What ``take`` refuses leaves no word behind, so the report may be mended and sent again.

    Raises:
        Refused: the word is too long to be a phone's, or ``take`` refuses.
    """
    if len(word) > _WORD_MOST:
        raise Refused("Load the page again; nothing was stored.")
    if word:
        given = {"came_at": clock.now()}
        _, new = CrewReport.objects.get_or_create(
            person=person, word=word, defaults=given
        )
        if not new:
            return
    take()
