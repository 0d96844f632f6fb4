"""Snags of boats that nobody could get to: where the crew waits, and which were left and are held for the owner."""

from collections.abc import Iterator

from dispatch.actions import board_words, held_for_owner, money, rates
from dispatch.actions.board import Snag
from dispatch.actions.board_reading import Reading
from dispatch.actions.entries import grouped
from dispatch.records.models import ShutOut

ABOUT = "shut-out:"


def of(reading: Reading) -> Iterator[Snag]:
    """One snag a boat, with the times, the photos, and what the owner may do."""
    for row in held_for_owner.standing().values():
        if row.since < reading.horizon.end:
            yield _snag(reading, row)


def _snag(reading: Reading, row: ShutOut) -> Snag:
    photos = tuple(row.photos.values_list("pk", flat=True))
    sent = f" {len(photos)} photo{'' if len(photos) == 1 else 's'}." if photos else ""
    return Snag(
        weight=98,
        subject=row.job.boat.name,
        sentence=f"{_told(reading, row)}{sent}{_done(row)}",
        mend=_mend(row),
        does="shut-out",
        about=f"{ABOUT}{row.pk}",
        photos=photos,
    )


def _told(reading: Reading, row: ShutOut) -> str:
    zone = reading.line.zone
    since = board_words.when(row.since, zone)
    if row.left_at is None:
        over = "the wait is over since" if row.until <= reading.now else "waits until"
        return f"{row.person.name} cannot get to her since {since}, {over} {row.until.astimezone(zone):%H:%M}."
    waited = held_for_owner.waited(row, reading.now)
    minutes = waited.length.total_seconds() / 60
    return (
        f"{row.person.name} could not get to her {since}, waited {board_words.lasting(minutes)} and left "
        f"{row.left_at.astimezone(zone):%H:%M}: held for you, so no week plans her."
    )


def _done(row: ShutOut) -> str:
    """What the owner did about it so far."""
    fee = f" {money.said(row.fee.cents)} for it is on her job." if row.fee else ""
    customer = row.job.boat.customer.name
    return (
        f" {customer} was written to of it.{fee}" if held_for_owner.told(row) else fee
    )


def _mend(row: ShutOut) -> str:
    customer = row.job.boat.customer
    call = f"Call {customer.name}{f', {grouped(customer.phone)}' if customer.phone else ''}: free."
    if row.left_at is None:
        return call
    fee = round(rates.prices().in_vain_cents)
    asks = (
        ""
        if row.fee or not fee
        else f" Having come in vain may cost {money.said(fee)}, if you put it on her job."
    )
    return f"{call} Then say that she can be got to, or put her off on her job's page.{asks}"
