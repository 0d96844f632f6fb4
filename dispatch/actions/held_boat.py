"""The owner deals with a boat that the crew could not get to: tells her owner once, lets her be planned again, asks a fee."""

from zoneinfo import ZoneInfo

from django.db import transaction

from dispatch.actions import (
    access,
    announcing,
    board_words,
    clock,
    held_for_owner,
    history,
    money,
    rates,
)
from dispatch.actions.errors import Refused, Stale
from dispatch.notices.reasons import Came
from dispatch.records.models import Account, Extra, ShutOut
from dispatch.trade.spans import Span


@transaction.atomic
def let_go(row: ShutOut, *, by: Account) -> str:
    """Hold a boat no longer: she can be got to, and weeks plan her again. Return it as a sentence; nobody is told.

    Raises:
        Stranger: the account is not the owner's.
        Stale: that was said before, or the crew got to her.
    """
    access.owner(by)
    boat = row.job.boat.name
    if not held_for_owner.over(row.job):
        raise Stale(f"{boat} is not held any more. Nothing was changed.")
    sentence = f"{boat} can be got to: the next plan has her again. Nobody is told."
    history.write("let-go", f"job {row.job.key}", sentence, by=by)
    return sentence


@transaction.atomic
def tell(row: ShutOut, *, by: Account) -> str:
    """Tell the customer that the crew came and could not get to her, once a day however often it came. Return it as a sentence.

    Raises:
        Stranger: the account is not the owner's.
        Refused: the crew has not left her, or the customer agreed to no message.
        Stale: it was told that day already.
    """
    access.owner(by)
    job, customer = row.job, row.job.boat.customer
    if row.left_at is None:
        raise Refused("The crew has not left her. Nothing was written.")
    if held_for_owner.told(row):
        raise Stale(f"{customer.name} was written to of that day already.")
    if not announcing.reachable(customer):
        raise Refused(
            f"{customer.name} has agreed to no text and no e-mail: call by hand."
        )
    zone = ZoneInfo(job.boat.place.time_zone)
    waited = Span(row.since.astimezone(zone), row.left_at.astimezone(zone))
    occasion = Came(about=announcing.about(job), waited=waited)
    announcing.put(job, occasion, held_for_owner.fact(row), clock.now())
    sentence = f"{customer.name} is told that we came to {job.boat.name} and could not get to her."
    history.write("tell-came", f"job {job.key}", sentence, by=by)
    return sentence


@transaction.atomic
def charge(row: ShutOut, *, by: Account) -> Extra:
    """Put what the outfit asks for having come in vain on the job as an extra, once for each time.

    Raises:
        Stranger: the account is not the owner's.
        Refused: no amount is set, or the crew has not left her.
        Stale: it stands on the job already.
    """
    access.owner(by)
    cents = round(rates.prices().in_vain_cents)
    if not cents:
        raise Refused(
            "What having come in vain costs is not set. Set it under Prices in the settings first."
        )
    stood = ShutOut.objects.select_for_update().get(pk=row.pk)
    if stood.left_at is None:
        raise Refused("The crew has not left her. Nothing was put on the job.")
    if stood.fee_id is not None:
        raise Stale(f"It stands on {row.job} already. Nothing was changed.")
    zone = ZoneInfo(row.job.boat.place.time_zone)
    since = row.since.astimezone(zone)
    words = f"Came in vain, {board_words.dated(row.since, zone)}"
    made = money.add_extra(
        row.job, {"words": words, "cents": cents, "on": since.date()}, by=by
    )
    stood.fee = made
    stood.save(update_fields=["fee"])
    return made
