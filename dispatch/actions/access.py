"""Who may see and do what."""

from datetime import timedelta

from django.core import signing

from dispatch.actions import clock, rates
from dispatch.actions.errors import Stranger
from dispatch.records.models import Account, Job, Person

_LINK_SALT = "leeboard.boat-page"


def is_owner(account: object) -> bool:
    """Whether a signed-in account is an owner's."""
    return (
        isinstance(account, Account)
        and account.is_active
        and account.role == Account.Role.OWNER
    )


def owner(account: object) -> Account:
    """The account, when it is an owner's.

    Raises:
        Stranger: it is anybody else's.
    """
    if isinstance(account, Account) and is_owner(account):
        return account
    raise Stranger("Only the owner may do this. Ask the owner, or sign in as one.")


def crew_member(account: object) -> Person:
    """The person behind an account.

    Raises:
        Stranger: the account is nobody's who works here.
    """
    if (
        isinstance(account, Account)
        and account.is_active
        and account.person is not None
        and account.person.active
    ):
        return account.person
    raise Stranger("This page is for people of the crew. Sign in with a crew account.")


def boat_link(job: Job) -> str:
    """The signed word in the link that a customer opens without signing in."""
    return signing.dumps(job.pk, salt=_LINK_SALT)


def job_of_link(word: str) -> Job:
    """The job a customer's link opens.

    Raises:
        Stranger: the link is not ours, or 60 days have passed since hand-back.
    """
    try:
        job = Job.objects.select_related("boat__place", "boat__customer", "kind").get(
            pk=signing.loads(word, salt=_LINK_SALT)
        )
    except (signing.BadSignature, Job.DoesNotExist) as error:
        raise Stranger(
            "This link does not open anything. Ask us for a new one."
        ) from error
    open_for = timedelta(days=rates.customers().link_days)
    if job.handed_back_at and job.handed_back_at + open_for < clock.now():
        raise Stranger("This link has run out. Ask us for a new one.")
    return job
