"""What is left of each product after each day of the plan."""

from datetime import date, timedelta

from dispatch.actions import rates
from dispatch.actions.board import StoreLine
from dispatch.actions.board_reading import Reading
from dispatch.actions.board_strips import Visit, visits
from dispatch.records.models import Can, Sheet


def lines(reading: Reading) -> tuple[StoreLine, ...]:
    """Every product in store or in the plan."""
    made = [visit for rows in visits(reading).values() for visit in rows]
    made = [visit for visit in made if visit.stage.sheet and not visit.done]
    used = {visit.stage.sheet_id for visit in made}
    return tuple(
        _line(reading, sheet, [v for v in made if v.stage.sheet_id == sheet.pk])
        for sheet in Sheet.objects.prefetch_related("cans")
        if sheet.pk in used or sheet.cans.all()
    )


def _line(reading: Reading, sheet: Sheet, made: list[Visit]) -> StoreLine:
    first = reading.line.dates[0]
    spent, left = 0.0, []
    for day in reading.line.dates:
        spent += sum(v.stage.product_ml for v in made if _on(reading, v) == day)
        left.append(_usable(sheet, day) - spent)
    past = sum(can.left_ml * can.count for can in sheet.cans.all())
    return StoreLine(
        key=sheet.key,
        name=sheet.name,
        start_ml=_usable(sheet, first),
        left_ml=tuple(left),
        reserve_ml=spent * rates.coverage().carry_reserve,
        past_ml=past - _usable(sheet, first),
        not_estimated=tuple(
            f"{v.stage.job.boat.name}: {v.stage.name}"
            for v in made
            if not v.stage.product_ml
        ),
    )


def _on(reading: Reading, visit: Visit) -> date:
    return visit.span.start.astimezone(reading.line.zone).date()


def _usable(sheet: Sheet, day: date) -> float:
    return sum(
        can.left_ml * can.count for can in sheet.cans.all() if _keeps(can, sheet, day)
    )


def _keeps(can: Can, sheet: Sheet, day: date) -> bool:
    """A can that was opened keeps for the sheet's days; where the sheet says none, it is as good as sealed."""
    if can.opened_on is None or sheet.opened_shelf_days is None:
        return True
    return day <= can.opened_on + timedelta(days=sheet.opened_shelf_days)
