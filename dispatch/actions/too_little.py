"""A second coat that the cans do not do for: the crew stops before it, never at half a side, and the owner hears of it."""

from collections.abc import Iterator
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from dispatch.actions import clock, recoat, stores, to_lay
from dispatch.actions.board import Snag
from dispatch.actions.board_reading import Reading
from dispatch.actions.board_words import when
from dispatch.records.models import Laid, Sheet, Stage
from dispatch.trade import film
from dispatch.trade.words import Words

_A_DROP_ML = 0.05


@dataclass(frozen=True, kw_only=True)
class Short:
    """Millilitres a second coat is expected to take, those in cans that keep, and those past their shelf life.

    ``kept_ml``, not in what is there: for second coats whose first one was on earlier, as they may wait less.
    ``measured``: by what the first coat really took, not by the estimate.
    """

    sheet: Sheet
    takes_ml: float
    there_ml: float
    kept_ml: float
    past_ml: float
    measured: bool

    @property
    def lacks_ml(self) -> float:
        """What is to be brought."""
        return self.takes_ml - self.there_ml


def of(stage: Stage) -> Short | None:
    """What lacks for the second coat of a stage whose first one is on; None where the cans do."""
    first = to_lay.first_coat(stage)
    if first is None or stage.sheet is None:
        return None
    today = clock.now().astimezone(_zone(stage)).date()
    cans = stage.sheet.cans.all()
    usable = stores.usable_ml(stage.sheet, today)
    kept = min(usable, _kept_ml(first))
    short = Short(
        sheet=stage.sheet,
        takes_ml=to_lay.ml(stage),
        there_ml=usable - kept,
        kept_ml=kept,
        past_ml=sum(can.left_ml * can.count for can in cans) - usable,
        measured=first.used_ml is not None,
    )
    return short if short.lacks_ml > _A_DROP_ML else None


def _kept_ml(first: Laid) -> float:
    """What other stages between their coats take of the same product, where their first coat is the older one."""
    older = Stage.objects.filter(
        laid__coat=first.coat,
        laid__ended_at__lt=first.ended_at,
        state=Stage.State.UNDER_WAY,
        sheet=first.stage.sheet_id,
    )
    return sum(to_lay.ml(stage) for stage in older.exclude(pk=first.stage_id))


def line(stage: Stage, words: Words) -> str:
    """What the crew is told before the second coat; empty where the cans do."""
    short = of(stage)
    if short is None:
        return ""
    return (
        f"Stop before coat 2: {_numbers(short, words)} Lay all of it or none, never half a side: "
        f"call the owner for more, or to count the cans. {_latest(stage)}"
    )


def snags(reading: Reading) -> Iterator[Snag]:
    """Second coats that the cans do not do for, with what to buy."""
    for name, stage in reading.stages.items():
        short = of(stage)
        if short is not None:
            yield Snag(
                weight=99,
                subject=stage.job.boat.name,
                stage=name,
                sentence=f"{stage.name}: stop before coat 2, as {_numbers(short, reading.words)} {_latest(stage)}",
                mend=_mend(stage, short, reading.words),
                does="stores",
            )


def _numbers(short: Short, words: Words) -> str:
    by = (
        "by what coat 1 took"
        if short.measured
        else "by the estimate, coat 1 not measured"
    )
    kept = (
        f", beside {words.volume(short.kept_ml)} for a coat 2 whose coat 1 was on earlier"
        if short.kept_ml > _A_DROP_ML
        else ""
    )
    past = (
        f"; {words.volume(short.past_ml)} more is past its shelf life"
        if short.past_ml > _A_DROP_ML
        else ""
    )
    return (
        f"it takes about {words.volume(short.takes_ml)} of {short.sheet} {by}, {words.volume(short.there_ml)} is there{kept}: "
        f"{words.volume(short.lacks_ml)} short{past}."
    )


def _latest(stage: Stage) -> str:
    """The last moment for the second coat, told on the safe side."""
    if not recoat.limited(stage):
        return f"The sheet of {stage.sheet} has no latest time for coat 2 entered."
    latest = recoat.told(stage)
    if latest is None:
        return f"Until when coat 2 may follow is not known: read the sheet of {stage.sheet}."
    return f"Coat 2 may follow until {when(latest, _zone(stage))}."


def _mend(stage: Stage, short: Short, words: Words) -> str:
    """What is to be bought, as every can in store is counted already."""
    packs = film.packs_to_buy(short.lacks_ml, 0, short.sheet.pack_ml)
    cost = short.sheet.pack_cents * packs
    price = f"${cost / 100:.0f}" if cost else "its price is not entered"
    anew = (
        " Where it comes too late for coat 2, both coats are laid anew once she is hard."
        if recoat.limited(stage)
        else ""
    )
    return (
        f"Buy {packs} {'can' if packs == 1 else 'cans'} of {words.volume(short.sheet.pack_ml)}: {price}. "
        f"Every can in store is counted in; one that nobody entered does as well.{anew}"
    )


def _zone(stage: Stage) -> ZoneInfo:
    return ZoneInfo(stage.job.boat.place.time_zone)
