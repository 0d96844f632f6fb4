"""Who and what is not there: a person away for a day or some, a van off the road. The week itself stays as it stands."""

from collections.abc import Iterator
from datetime import date, time, timedelta

from django.db import transaction

from dispatch.actions import access, history
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, DayOff, Person, Van, VanOff

_MOST_DAYS = 366


@transaction.atomic
def person_away(
    person: Person,
    first: date,
    last: date,
    *,
    by: Account,
    there: tuple[time, time] | None = None,
    reason: str = "",
) -> str:
    """Store that a person is away from one day to another, or is there only between two times; return it as a sentence.

    Raises:
        Stranger: the account is not the owner's.
        Refused: the days or the times are the wrong way round, or too many.
    """
    access.owner(by)
    start, end = there or (None, None)
    if start is not None and end is not None and end <= start:
        raise Refused(
            f"{person.name} cannot be there from {start:%H:%M} to {end:%H:%M}. Put the later time last."
        )
    for on in _days(first, last):
        DayOff.objects.update_or_create(
            person=person,
            on=on,
            defaults={"start": start, "end": end, "reason": reason.strip()[:80]},
        )
    hours = f"there only {start:%H:%M}-{end:%H:%M}" if start and end else "away"
    sentence = f"{person.name} is {hours} {_when(first, last)}."
    history.write("set-away", f"person {person.key}", sentence, by=by, why=reason)
    return sentence


@transaction.atomic
def person_back(person: Person, on: date, *, by: Account) -> str:
    """Store that a person is there after all on a day; return it as a sentence.

    Raises:
        Stranger: the account is not the owner's.
        Refused: they were not away that day.
    """
    access.owner(by)
    if not DayOff.objects.filter(person=person, on=on).delete()[0]:
        raise Refused(
            f"{person.name} is not away on {on:%A %d %B}. Nothing was changed."
        )
    sentence = f"{person.name} is there after all {_when(on, on)}."
    history.write("set-away", f"person {person.key}", sentence, by=by)
    return sentence


@transaction.atomic
def van_off(van: Van, first: date, last: date, *, by: Account, reason: str = "") -> str:
    """Store that a van is off the road from one day to another; return it as a sentence.

    Raises:
        Stranger: the account is not the owner's.
        Refused: the days are the wrong way round, or too many.
    """
    access.owner(by)
    for on in _days(first, last):
        VanOff.objects.update_or_create(
            van=van, on=on, defaults={"reason": reason.strip()[:80]}
        )
    sentence = f"{van.name} is off the road {_when(first, last)}."
    history.write("set-van-off", f"van {van.key}", sentence, by=by, why=reason)
    return sentence


@transaction.atomic
def van_back(van: Van, on: date, *, by: Account) -> str:
    """Store that a van is on the road after all on a day; return it as a sentence.

    Raises:
        Stranger: the account is not the owner's.
        Refused: it was not off the road that day.
    """
    access.owner(by)
    if not VanOff.objects.filter(van=van, on=on).delete()[0]:
        raise Refused(
            f"{van.name} is on the road on {on:%A %d %B} anyway. Nothing was changed."
        )
    sentence = f"{van.name} is on the road after all {_when(on, on)}."
    history.write("set-van-off", f"van {van.key}", sentence, by=by)
    return sentence


def _days(first: date, last: date) -> Iterator[date]:
    count = (last - first).days + 1
    if count < 1:
        raise Refused(
            f"{last:%A %d %B} comes before {first:%A %d %B}. Put the later day last."
        )
    if count > _MOST_DAYS:
        raise Refused(f"That is {count} days. Enter a year at most.")
    return (first + timedelta(days=number) for number in range(count))


def _when(first: date, last: date) -> str:
    if first == last:
        return f"on {first:%A} {first.day} {first:%B}"
    return f"from {first:%A} {first.day} {first:%B} to {last:%A} {last.day} {last:%B}"
