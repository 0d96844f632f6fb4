"""A scenario's people: their skills, hours, who is kept apart, and their accounts."""

from collections.abc import Mapping, Sequence

from dispatch.actions.errors import Refused
from dispatch.actions.scenario_rows import Entry, stored
from dispatch.records.models import Account, DayOff, Duty, KeptApart, Person, Skill

_APART = ("owner", "skills", "duties", "days_off", "kept_apart")


def load(entries: Sequence[Entry], passwords: Mapping[str, str]) -> None:
    """Store people with an account each, in the caller's transaction; ``owner`` makes it an owner's.

    Raises:
        Refused: an entry is wrong, or somebody has no password.
    """
    people = {}
    for entry in entries:
        person = stored(Person, entry, apart=_APART)
        people[person.key] = person
        _hours(person, entry)
        for skill in entry.within("skills"):
            stored(Skill, skill, person=person)
        _account(person, entry, passwords)
    for entry in entries:
        _apart(entry, people)


def _hours(person: Person, entry: Entry) -> None:
    for hours in entry.within("duties"):
        for weekday in hours.weekdays():
            stored(Duty, hours, apart=("days",), person=person, weekday=weekday)
    for day in entry.within("days_off"):
        stored(DayOff, day, person=person)


def _account(person: Person, entry: Entry, passwords: Mapping[str, str]) -> None:
    if not passwords.get(person.key):
        raise Refused(f"There is no password for {person.name}. Give one.")
    owns = entry.values.get("owner", False)
    if not isinstance(owns, bool):
        entry.refuse("owner", "it should be true or false.")
    Account.objects.create_user(
        person.key,
        email=person.email,
        password=passwords[person.key],
        role=Account.Role.OWNER if owns else Account.Role.CREW,
        person=person,
    )


def _apart(entry: Entry, people: Mapping[str, Person]) -> None:
    others = entry.values.get("kept_apart", [])
    if not isinstance(others, list):
        entry.refuse("kept_apart", "it should be a list of people's keys.")
    for key in others:
        if key not in people:
            entry.refuse("kept_apart", f"there is no person {key}.")
        KeptApart.objects.create(
            first=people[str(entry.values["key"])], second=people[key]
        )
