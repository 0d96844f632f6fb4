"""What is left of each product after each day of the plan."""

from datetime import date, datetime

from dispatch.actions import rates, to_lay
from dispatch.actions.board_reading import Reading
from dispatch.actions.board_strips import Visit, visits
from dispatch.actions.store_line import StoreLine
from dispatch.actions.stores import usable_ml
from dispatch.records.models import Sheet

_A_DROP_ML = 0.05


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
        spent += sum(to_lay.ml(v.stage) for v in made if _on(reading, v) == day)
        left.append(usable_ml(sheet, day) - spent)
    past = sum(can.left_ml * can.count for can in sheet.cans.all())
    return StoreLine(
        key=sheet.key,
        name=sheet.name,
        start_ml=usable_ml(sheet, first),
        left_ml=tuple(left),
        needed_ml=spent,
        reserve_ml=spent * rates.coverage().carry_reserve,
        past_ml=past - usable_ml(sheet, first),
        first_short=_first_short(reading, sheet, made),
        not_estimated=tuple(
            f"{v.stage.job.boat.name}: {v.stage.name}"
            for v in made
            if not to_lay.ml(v.stage)
        ),
    )


def _first_short(reading: Reading, sheet: Sheet, made: list[Visit]) -> datetime | None:
    """When the first visit begins that the cans do not cover, what is carried in case counted in."""
    spent, factor = 0.0, 1 + rates.coverage().carry_reserve
    for visit in sorted(made, key=lambda one: one.span.start):
        spent += to_lay.ml(visit.stage) * factor
        if spent > usable_ml(sheet, _on(reading, visit)) + _A_DROP_ML:
            return visit.span.start
    return None


def _on(reading: Reading, visit: Visit) -> date:
    return visit.span.start.astimezone(reading.line.zone).date()
