"""Who is never sent out in one team with whom."""

from dispatch.actions.errors import Refused
from dispatch.records.models import KeptApart, Person


def names(person: Person) -> str:
    """Those a person is kept apart from, by name with commas between."""
    return ", ".join(sorted(one.name for one in _from(person)))


def keep(person: Person, said: str) -> None:
    """Keep a person apart from those named, and from nobody else.

    Raises:
        Refused: a name is nobody's, or that of several.
    """
    others = [_named(name, person) for name in map(str.strip, said.split(",")) if name]
    if {one.pk for one in others} == {one.pk for one in _from(person)}:
        return
    KeptApart.objects.filter(first=person).delete()
    KeptApart.objects.filter(second=person).delete()
    KeptApart.objects.bulk_create(
        KeptApart(first=person, second=other) for other in dict.fromkeys(others)
    )


def _from(person: Person) -> list[Person]:
    rows = KeptApart.objects.select_related("first", "second")
    return [row.second for row in rows.filter(first=person)] + [
        row.first for row in rows.filter(second=person)
    ]


def _named(name: str, person: Person) -> Person:
    found = list(Person.objects.filter(name__iexact=name).exclude(pk=person.pk))
    if len(found) != 1:
        raise Refused(
            f"There is no other person {name}. Write names as they stand, with commas between."
        )
    return found[0]
