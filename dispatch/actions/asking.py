"""What became of a message that may or may not have come, once somebody has asked."""

from django.db import transaction

from dispatch.actions import access, clock, history
from dispatch.actions.errors import Stale
from dispatch.notices import outbox
from dispatch.records.models import Account, Notice


@transaction.atomic
def came(pk: int, *, by: Account) -> Notice:
    """It came: count the message as sent.

    Raises:
        Stale: it is no longer open what became of it.
        Stranger: the account is not the owner's.
    """
    return _settled(pk, Notice.State.SENT, "it came", by)


@transaction.atomic
def did_not_come(pk: int, *, by: Account) -> Notice:
    """It did not come: send the message again.

    Raises:
        Stale: it is no longer open what became of it.
        Stranger: the account is not the owner's.
    """
    return _settled(pk, Notice.State.WAITING, "it did not come and goes out again", by)


def _settled(pk: int, state: Notice.State, what: str, by: Account) -> Notice:
    access.owner(by)
    now = clock.now()
    if not outbox.answered(pk, state, now):
        raise Stale("What became of this message is known by now. Load the page again.")
    notice = Notice.objects.select_related("customer", "person", "job").get(pk=pk)
    subject = f"job {notice.job.key}" if notice.job else f"notice {notice.pk}"
    sentence = f"Asked {notice.addressee.name} about “{notice.subject}”: {what}."
    history.write("asked-about", subject, sentence, by=by)
    return notice
