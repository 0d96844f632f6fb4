"""The mends that a task worked out for a plan's snags, put beside them."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from dispatch.actions import due
from dispatch.actions.board import Snag
from dispatch.actions.board_reading import Reading
from dispatch.actions.priced import Offer, Priced
from dispatch.records.models import Mend

VERB = "price-mends"
# What planning the rest anew costs is kept once a plan, for all snags that it mends.
ANEW = "anew"


def later(plan: int) -> None:
    """Have a task work out the mends of a plan's snags, the plan by its key."""
    due.put(VERB, str(plan))


def beside(reading: Reading, snags: Sequence[Snag]) -> tuple[Snag, ...]:
    """Snags with the mend that is kept for each; one that none was worked out for is as it was."""
    rows = Mend.objects.filter(plan_id=reading.plan.pk)
    kept = {row.snag: _priced(row) for row in rows}
    return tuple(
        replace(one, priced=_for(one, kept), offers=_offers(one, kept)) for one in snags
    )


def _offers(snag: Snag, kept: Mapping[str, Priced]) -> tuple[Offer, ...]:
    return tuple(replace(one, priced=kept.get(one.about)) for one in snag.offers)


def _for(snag: Snag, kept: Mapping[str, Priced]) -> Priced | None:
    """A change by hand that mends it; where there is none, planning the rest anew."""
    own = kept.get(snag.about)
    if snag.anew and (own is None or not own.ask):
        return kept.get(ANEW, own)
    return own


def _priced(row: Mend) -> Priced:
    return Priced(words=row.words, cents=row.cents, ask=row.ask, at=row.at)
