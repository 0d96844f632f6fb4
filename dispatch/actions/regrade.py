"""A boat turns out to be in another condition than she was graded: what is left of her work is reckoned again, her price stays."""

from django.db import transaction

from dispatch.actions import access, history, money, refiguring, took
from dispatch.actions.errors import Refused
from dispatch.actions.refiguring import Pair
from dispatch.records.models import Account, Job, Stage

WORST = 4
_TO_DO = Stage.State.TO_DO


def would(job: Job, to: int) -> tuple[float, float]:
    """Labour-minutes of what nobody began, as they stand and by another grade; nothing is stored.

    Raises:
        Refused: what ``stages.make`` refuses.
    """
    pairs = [pair for pair in _pairs(job, to) if pair.stands.state == _TO_DO]
    before = sum(took.labour(pair.stands) for pair in pairs)
    return before, sum(took.labour(pair.would_be) for pair in pairs)


@transaction.atomic
def to_grade(job: Job, to: int, *, by: Account) -> str:
    """Grade a boat otherwise: visits that nobody began take as long as that grade does, posted ones too; the price stays as agreed.

    No visit is moved; planning the rest anew goes by the new minutes. Return it as a sentence.

    Raises:
        Stranger: the account is not the owner's.
        Refused: it is no grade or hers already, or what ``stages.make`` refuses.
    """
    access.owner(by)
    if not 1 <= to <= WORST:
        raise Refused(f"Condition is 1 to {WORST}. Nothing was changed.")
    stood = (
        Job.objects.select_for_update(of=("self",))
        .select_related("boat__place", "kind", "sheet")
        .get(pk=job.pk)
    )
    if stood.grade == to:
        raise Refused(f"{stood.boat.name} is graded {to} already. Nothing was changed.")
    pairs, was = _pairs(stood, to), stood.grade
    stood.grade, stood.version = to, stood.version + 1
    stood.save(update_fields=["grade", "version"])
    left = [pair for pair in pairs if pair.stands.state == _TO_DO]
    before = sum(took.labour(pair.stands) for pair in left)
    for pair in left:
        refiguring.take_over(pair)
    note(pairs)
    after = sum(took.labour(pair.would_be) for pair in left)
    sentence = (
        f"{stood.boat.name} is graded {to}, was {was}: {before:.0f} labour-minutes left become {after:.0f}. "
        f"The price stays as agreed, {money.said(stood.price_cents)}."
    )
    history.write("regrade", f"job {stood.key}", sentence, by=by)
    return sentence


def note(pairs: list[Pair]) -> None:
    """Note on what was begun before how much longer its new grade takes: what it took teaches that grade, once."""
    for pair in pairs:
        stands, would_be = pair.stands, pair.would_be
        own = took.labour(stands) / took.learnt(stands)
        if stands.state == _TO_DO or not own:
            continue
        factor = took.labour(would_be) / took.learnt(would_be) / own
        stands.steps = [row | {"regraded": factor} for row in stands.steps]
        stands.save(update_fields=["steps"])


def noted(job: Job) -> None:
    """The same for a job whose grade was changed with its other terms."""
    note(refiguring.pairs(job))


def _pairs(job: Job, to: int) -> list[Pair]:
    """A job's stages, each beside the same as another grade would make it."""
    was = job.grade
    job.grade = to
    try:
        return refiguring.pairs(job)
    finally:
        job.grade = was
