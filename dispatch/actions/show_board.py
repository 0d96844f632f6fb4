"""The week's board of one plan, for every door alike."""

from dispatch.actions import (
    board_boats,
    board_left_out,
    board_lines,
    board_mends,
    board_reading,
    board_sky,
    board_snags,
    board_stores,
    covering,
    one_moment,
)
from dispatch.actions.board import Board
from dispatch.actions.board_text import text
from dispatch.records.models import WeekPlan
from dispatch.trade.spans import Span

__all__ = ["board", "text"]


@one_moment.held()
def board(plan: WeekPlan) -> Board:
    """Everything the board shows of a plan at one moment; one without an answer yet has its boats and its sky alone."""
    reading = board_reading.read(plan)
    places = board_boats.rows(reading)
    boats = [boat for place in places for boat in place.boats]
    sky, left_out = board_sky.ribbon(reading), board_left_out.rows(reading)
    vans, people = board_lines.vans(reading), board_lines.people(reading)
    equipment, stores = board_lines.equipment(reading), board_stores.lines(reading)
    snags = board_snags.all_of(
        reading,
        (
            board_snags.sky(reading, sky),
            board_snags.promises(reading, boats, left_out),
            board_snags.stores(reading, stores),
            board_snags.hours(people),
            board_snags.left(left_out),
            board_snags.registrations(reading),
            board_snags.fetches(reading, equipment),
            covering.snags(reading, boats),
        ),
    )
    return Board(
        outfit=reading.outfit.name,
        units=reading.outfit.units,
        zone=reading.line.zone,
        now=reading.now,
        state=plan.state if plan.plan else "empty",
        days=reading.line.dates,
        day_spans=tuple(
            Span(reading.line.moment(start), reading.line.moment(end))
            for start, end in reading.line.days
        ),
        sky=sky,
        places=places,
        vans=vans,
        people=people,
        equipment=equipment,
        stores=stores,
        left_out=left_out,
        snags=board_mends.beside(reading, snags[: board_snags.MOST]),
        unlisted=snags[board_snags.MOST :],
        plan=plan.pk,
        cost_cents=dict(reading.answer.get("cost", {})),
    )
