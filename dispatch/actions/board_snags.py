"""Snags: what may go wrong with a plan, each in one sentence with its numbers."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import timedelta

from dispatch.actions import (
    between_coats,
    board_appointment_snags,
    board_held_snags,
    board_house_snags,
    board_load,
    board_overran_snags,
    board_pin_snags,
    board_plugin_snags,
    board_standing_snags,
    board_told_snags,
    board_work_snags,
    cans,
    rates,
    too_little,
)
from dispatch.actions.board import (
    BoatRow,
    EquipmentLine,
    LeftOut,
    PersonLine,
    SkyRibbon,
    Snag,
)
from dispatch.actions.board_reading import Reading
from dispatch.actions.board_words import dated, lasting, names, when
from dispatch.actions.store_line import StoreLine
from dispatch.records.models import Job, Sheet
from dispatch.trade import film, numbers

MOST = 7


def sky(reading: Reading, ribbon: SkyRibbon) -> Iterator[Snag]:
    """A forecast that is missing or old."""
    if ribbon.issued_at is None:
        yield Snag(
            weight=97,
            subject="Sky",
            sentence="No forecast has been taken in, so nothing can be judged: unknown is never a go.",
            mend="Get forecasts: free, a minute or two.",
            does="forecasts",
        )
        return
    age = reading.now - ribbon.issued_at
    if age > timedelta(hours=rates.board().stale_hours):
        yield Snag(
            weight=85,
            subject="Sky",
            sentence=f"The forecast is {lasting(age.total_seconds() / 60)} old, issued {dated(ribbon.issued_at, reading.line.zone)}.",
            mend="Get forecasts before you trust the hours: free, a minute or two. Or enter the sky by hand on a place's page.",
            does="forecasts",
            setting="board",
        )


def promises(
    reading: Reading, boats: Sequence[BoatRow], left_out: Sequence[LeftOut]
) -> Iterator[Snag]:
    """Promises the plan breaks, or keeps with little to spare."""
    reasons = {left.job: left.why for left in left_out if not left.extra}
    spare = rates.board().promise_spare_minutes
    for row in boats:
        if row.promise.by is None:
            continue
        if row.promise.finish is None:
            if row.job in reasons and row.promise.by <= reading.horizon.end:
                yield _broken(reading, row, reasons[row.job])
        elif row.promise.late_minutes > 0:
            yield _late(reading, row)
        elif _hard(row) and row.promise.late_minutes > -spare:
            yield _tight(reading, row)


def _hard(row: BoatRow) -> bool:
    return row.promise.kind == Job.Promise.HARD


def _told(reading: Reading, row: BoatRow) -> str:
    by = when(row.promise.by, reading.line.zone) if row.promise.by else ""
    return f"promised by {by}{', a hard date' if _hard(row) else ''}"


def _broken(reading: Reading, row: BoatRow, why: str) -> Snag:
    return Snag(
        weight=95 if _hard(row) else 70,
        subject=row.boat,
        sentence=f"Not done this week, though {_told(reading, row)}. {why}",
        about=f"broken:{row.job}",
    )


def _late(reading: Reading, row: BoatRow) -> Snag:
    return Snag(
        weight=90 if _hard(row) else 65,
        subject=row.boat,
        sentence=f"{_done(reading, row)}, {lasting(row.promise.late_minutes)} late: {_told(reading, row)}.",
        about=f"late:{row.job}",
    )


def _tight(reading: Reading, row: BoatRow) -> Snag:
    return Snag(
        weight=60,
        subject=row.boat,
        sentence=f"{_done(reading, row)}, only {lasting(row.promise.late_minutes)} to spare: {_told(reading, row)}.",
        about=f"tight:{row.job}",
        setting="board",
    )


def _done(reading: Reading, row: BoatRow) -> str:
    finish = row.promise.finish
    return f"Done {when(finish, reading.line.zone)}" if finish else "Not done"


def stores(reading: Reading, lines: Sequence[StoreLine]) -> Iterator[Snag]:
    """Products that run short, the carry reserve counted in, or whose use nobody has estimated."""
    for line in lines:
        short = line.reserve_ml - min(line.left_ml)
        if line.reserve_ml and short > 0:
            yield _short(reading, line, short)


def _short(reading: Reading, line: StoreLine, short: float) -> Snag:
    sheet = Sheet.objects.get(key=line.key)
    packs = film.packs_to_buy(short, 0, sheet.pack_ml)
    day = next(
        day
        for day, left in zip(reading.line.dates, line.left_ml, strict=True)
        if left < line.reserve_ml
    )
    past = (
        f"; {reading.words.volume(line.past_ml)} is past its shelf life and not counted"
        if line.past_ml
        else ""
    )
    return Snag(
        weight=80,
        subject=line.name,
        sentence=f"{reading.words.volume(short)} short by {day:%a}, with {reading.words.volume(line.reserve_ml)} carried in reserve{past}.",
        setting="supply",
        mend=f"Order {packs} {'can' if packs == 1 else 'cans'}{_by(reading, line)}{_costs(packs * sheet.pack_cents)}.",
        does="stores",
    )


def _costs(cents: int) -> str:
    return f": ${cents / 100:.0f}" if cents else "; its price is not entered"


def _by(reading: Reading, line: StoreLine) -> str:
    """The last moment to order; at once where that has gone by."""
    if line.first_short is None:
        return ""
    zone = reading.line.zone
    last = cans.order_by(line.first_short, zone)
    return f" by {when(last, zone)}" if last > reading.now else " at once"


def hours(people: Sequence[PersonLine]) -> Iterator[Snag]:
    """People over their regular hours."""
    for person in people:
        over = person.used_minutes - person.of_minutes
        if over > 0:
            yield Snag(
                weight=55,
                subject=person.name,
                sentence=f"{lasting(person.used_minutes)} planned, {lasting(over)} above the {lasting(person.of_minutes)} there are.",
                about=f"hours:{person.key}",
            )


def left(left_out: Sequence[LeftOut]) -> Iterator[Snag]:
    """How many boats are left out, in one sentence."""
    short = [row for row in left_out if not row.extra and not row.goes_on]
    boats = list(dict.fromkeys(row.boat for row in short))
    if boats:
        yield Snag(
            weight=40,
            subject="Left out",
            sentence=f"{len(boats)} {'boat is' if len(boats) == 1 else 'boats are'} not finished this week: {names(boats)}.",
            mend="What would let each of them in, and what that costs, stands under “Left out of this week”.",
            about="left:all",
        )


def registrations(reading: Reading) -> Iterator[Snag]:
    """Numbers that are to go on a boat and do not look like a registration."""
    lettered = {
        stage.job.boat: stage.job.boat.registration
        for stage in reading.stages.values()
        if stage.key.startswith("letters") and stage.job.boat.registration
    }
    for boat, entered in lettered.items():
        if doubt := numbers.doubt(entered):
            yield Snag(
                weight=45,
                subject=boat.name,
                sentence=doubt,
                mend="Put it right on her card before the letters are cut: free.",
                does="boat",
                about=f"boat:{boat.key}",
            )


def fetches(reading: Reading, lines: Sequence[EquipmentLine]) -> Iterator[Snag]:
    """The first move of each piece of equipment: where it must be fetched from."""
    for line in lines:
        moves = [stand for stand in line.stands if stand.moving]
        if moves and moves[0].span.start > reading.now:
            move, start = moves[0], line.stands[0].place
            minutes = move.span.length.total_seconds() / 60
            yield Snag(
                weight=30,
                subject=line.name,
                sentence=f"Stands at {start}; it must leave for {move.place} {when(move.span.start, reading.line.zone)}, {lasting(minutes)} with hooking up and setting down.",
                mend="The plan has that drive in it; there is nothing to do but to leave in time.",
                setting="travel",
            )


def all_of(reading: Reading, parts: Sequence[Iterator[Snag]]) -> tuple[Snag, ...]:
    """Every snag, the heaviest first."""
    found = [snag for part in parts for snag in part]
    found += board_work_snags.of(reading)
    found += board_overran_snags.of(reading)
    found += board_house_snags.of(reading)
    found += board_standing_snags.of(reading)
    found += board_appointment_snags.of(reading)
    found += board_pin_snags.of(reading)
    found += board_told_snags.of(reading)
    found += board_held_snags.of(reading)
    found += board_plugin_snags.of()
    found += between_coats.snags(reading)
    found += board_load.snags(reading)
    found += too_little.snags(reading)
    return tuple(offered_once(sorted(found, key=lambda snag: -snag.weight)))


def offered_once(snags: Iterable[Snag]) -> Iterator[Snag]:
    """Of what is said of the sky as a whole, the first alone offers to get forecasts."""
    offered = False
    for snag in snags:
        whole = snag.subject == "Sky" and snag.does == "forecasts"
        yield replace(snag, mend="", does="") if whole and offered else snag
        offered = offered or whole
