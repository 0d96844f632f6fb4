"""The stores: what a coat takes out of the cans, and what keeps."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from django.db.models import F

from dispatch.actions import history
from dispatch.actions.board_words import dated
from dispatch.records.models import Account, Can, Outfit, Sheet, Stage
from dispatch.trade.words import Words

# Less than a drop is a rounding error, not a shortage.
_A_DROP_ML = 0.05


@dataclass(frozen=True, kw_only=True)
class Share:
    """What of a stage is taken out of the cans at once: all of it, or a coat; and its estimate."""

    name: str
    planned_ml: float


def draw(
    stage: Stage,
    share: Share,
    at: datetime,
    used_ml: float | None,
    *,
    by: Account | None,
    actor: str,
) -> None:
    """Take what a stage used out of the cans: the millilitres told, else the estimate.

    Open cans that still keep come first, the oldest before the others; then sealed ones are opened.
    What the cans do not hold is told in the history, as is an amount that is not known. Nothing is taken where
    the cans were counted by hand since: the count knew of it. In the caller's transaction.
    """
    if stage.sheet is None:
        return
    used = share.planned_ml if used_ml is None else used_ml
    # Two reports of one product wait for one another, so that no can is emptied twice.
    sheet = Sheet.objects.select_for_update().get(pk=stage.sheet.pk)
    counted = counted_since(sheet, at)
    short = 0.0 if counted else _take(sheet, used, _day(at))
    told = _sentence(stage, share, (used, short), measured=used_ml is not None)
    history.write(
        "use-product",
        f"job {stage.job.key}",
        f"{told} {counted}".strip(),
        by=by,
        actor=actor,
    )


def counted_since(sheet: Sheet, at: datetime) -> str:
    """That a product's cans were counted by hand after a moment, in a sentence; empty where they were not."""
    if sheet.counted_at is None or sheet.counted_at <= at:
        return ""
    when = dated(sheet.counted_at, _zone())
    return (
        f"The cans were counted {when}, after that, so they stay as they were counted."
    )


def put_right(sheet: Sheet, more_ml: float, at: datetime) -> float:
    """Take more out of the cans than was taken for a coat, or put back what was too much; in the caller's transaction.

    Return the millilitres the cans do not hold. What comes back goes into open cans that keep and have room, then
    stands as a can of its own.
    """
    if more_ml >= 0:
        return _take(sheet, more_ml, _day(at))
    _put_back(sheet, -more_ml, _day(at))
    return 0.0


def _put_back(sheet: Sheet, back_ml: float, day: date) -> None:
    opened = [c for c in sheet.cans.all() if c.opened_on and keeps(c, sheet, day)]
    for can in sorted(opened, key=lambda c: (c.opened_on or day, c.pk), reverse=True):
        room = max(0.0, sheet.pack_ml - can.left_ml) if can.count == 1 else 0.0
        added = min(room, back_ml)
        Can.objects.filter(pk=can.pk).update(left_ml=F("left_ml") + added)
        back_ml -= added
    while back_ml > _A_DROP_ML:
        part = min(back_ml, sheet.pack_ml)
        Can.objects.create(sheet=sheet, left_ml=part, opened_on=day)
        back_ml -= part


def _day(at: datetime) -> date:
    return at.astimezone(_zone()).date()


def _zone() -> ZoneInfo:
    return ZoneInfo(Outfit.objects.get().time_zone)


def usable_ml(sheet: Sheet, day: date) -> float:
    """Millilitres of a product in cans that keep through a day."""
    return sum(
        can.left_ml * can.count for can in sheet.cans.all() if keeps(can, sheet, day)
    )


def keeps(can: Can, sheet: Sheet, day: date) -> bool:
    """Whether a can may be used on a day: an opened one keeps for the sheet's days, as long as a sealed one where it says none."""
    if can.opened_on is None or sheet.opened_shelf_days is None:
        return True
    return day <= can.opened_on + timedelta(days=sheet.opened_shelf_days)


def _take(sheet: Sheet, wanted_ml: float, day: date) -> float:
    """Take an amount out of the cans; return the millilitres they do not hold."""
    for can in _in_turn(sheet, day):
        for _ in range(can.count):
            if wanted_ml <= _A_DROP_ML:
                return 0.0
            taken = min(wanted_ml, can.left_ml)
            _out_of_one(can, taken, day)
            wanted_ml -= taken
    return wanted_ml if wanted_ml > _A_DROP_ML else 0.0


def _in_turn(sheet: Sheet, day: date) -> Iterator[Can]:
    rows = [can for can in sheet.cans.all() if keeps(can, sheet, day)]
    yield from sorted(
        (can for can in rows if can.left_ml > 0),
        key=lambda can: (can.opened_on is None, can.opened_on or day, can.pk),
    )


def _out_of_one(can: Can, taken_ml: float, day: date) -> None:
    """Take an amount out of one can of a row; it then stands on its own, or is empty and gone."""
    row = Can.objects.filter(pk=can.pk)
    if not row.filter(count__gt=1).update(count=F("count") - 1):
        row.delete()
    left = can.left_ml - taken_ml
    if left > _A_DROP_ML:
        Can.objects.create(
            sheet_id=can.sheet_id,
            left_ml=left,
            opened_on=can.opened_on or day,
            van_id=can.van_id,
            place_id=can.place_id,
        )


def _sentence(
    stage: Stage, share: Share, took: tuple[float, float], *, measured: bool
) -> str:
    used, short = took
    what = f"{share.name} on {stage.job.boat.name}"
    if not measured and not used:
        return f"{what} used {stage.sheet}: nobody measured or estimated how much, so nothing was taken out of the stores. Count the cans."
    told = _volume(used)
    planned = _planned(share) if measured else "by the estimate, not measured"
    missing = (
        f" The stores held {_volume(short)} less than that: count the cans."
        if short
        else ""
    )
    return f"{what} took {told} of {stage.sheet}; {planned}.{missing}"


def _planned(share: Share) -> str:
    if not share.planned_ml:
        return "how much was planned is not known"
    return f"planned {_volume(share.planned_ml)}"


def _volume(millilitres: float) -> str:
    return Words(system=Outfit.objects.get().units).volume(millilitres)
