"""What may be done about a visit that overran, beside planning anew: more hands, one side today, masking later, another grade."""

from collections.abc import Iterator
from datetime import date

from dispatch.actions import board_strips, regrade
from dispatch.actions.board_reading import Reading
from dispatch.actions.board_strips import Visit
from dispatch.actions.errors import Refused
from dispatch.actions.priced import Offer
from dispatch.records.models import Job, Stage


def of(reading: Reading, stage: Stage, on: date) -> tuple[Offer, ...]:
    """The offers for what is left of a boat's work on the day of a visit that overran; none where nothing of hers is left."""
    left = to_come(reading, stage.job)
    if not left:
        return ()
    today = [one for one in left if _day(reading, one) == on]
    return (*_of_the_day(today), *_regraded(stage.job))


def to_come(reading: Reading, job: Job) -> list[Visit]:
    """Her visits that nobody began, the first one first."""
    rows = board_strips.visits(reading).get(job.key, ())
    left = (one for one in rows if one.stage.state == Stage.State.TO_DO)
    return sorted(left, key=lambda one: one.span.start)


def _of_the_day(today: list[Visit]) -> Iterator[Offer]:
    for visit in [one for one in today if _quicker_by_more(one)][:1]:
        yield _offer("hands", visit, f"Add hands to {visit.stage.name}")
    sides = [one for one in today if one.stage.panels and one.stage.family == "spray"]
    if len(sides) > 1:
        said = "Spray one side only and leave it to set"
        yield _offer("one-side", sides[-1], f"{said}: {sides[-1].stage.name} another day")  # fmt: skip
    for visit in today:
        if visit.stage.key == "mask":
            said = "Mask another day, with the spraying that hangs on it"
            yield _offer("masked", visit, said)


def _quicker_by_more(visit: Visit) -> bool:
    """Whether a bigger team than its own would be done with it sooner."""
    minutes = {int(size): length for size, length in visit.stage.minutes.items()}
    own = minutes.get(len(visit.team), max(minutes.values(), default=0))
    return any(n > len(visit.team) and m < own for n, m in minutes.items())


def _offer(kind: str, visit: Visit, words: str) -> Offer:
    return Offer(words=words, about=f"{kind}:{visit.name}", stage=visit.name)


def _regraded(job: Job) -> Iterator[Offer]:
    """One grade worse, where there is one and its minutes can be reckoned; the owner's to choose."""
    to = job.grade + 1
    if to > regrade.WORST:
        return
    try:
        before, after = regrade.would(job, to)
    except Refused:
        return
    yield Offer(
        words=(
            f"Grade her {to} instead of {job.grade}, if that is what she is: {before:.0f} labour-minutes left become "
            f"{after:.0f}; the price stays as agreed"
        ),
        job=job.key,
        grade=to,
    )


def _day(reading: Reading, visit: Visit) -> date:
    return visit.span.start.astimezone(reading.line.zone).date()
