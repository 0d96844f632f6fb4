"""A price that a plugin told, taken as the agreed one; nothing else makes it so."""

from dispatch.actions import access, asked_prices, terms
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Job


def agree(job: Job, cents: int, *, by: Account) -> None:
    """Take the price a plugin told as the agreed one.

    Raises:
        Stranger: the account is not the owner's.
        Refused: no plugin told it, or another since.
    """
    access.owner(by)
    found = asked_prices.of(job)
    if not found.by or found.price.cents != cents:
        raise Refused(
            "The price was told anew meanwhile, so nothing was changed. Look at it again."
        )
    # What leaving her out is weighed at goes along where it was the price.
    goes_along = job.unfinished_cents == job.price_cents
    new = {"price_cents": cents} | ({"unfinished_cents": cents} if goes_along else {})
    terms.change(job, new, by=by, why=f"As the plugin {found.by} prices it.")
