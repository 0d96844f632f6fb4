"""Who opens pages in these tests: one owns, one drives, one is nobody's."""

from dispatch.records.models import Account, Person

PASSWORD = "cedar-and-copper-9"  # noqa: S105 - of people who exist in tests alone


def owner() -> Account:
    return Account.objects.create_user(
        username="orla", password=PASSWORD, role=Account.Role.OWNER
    )


def crew() -> Account:
    person, _ = Person.objects.get_or_create(
        key="rook", defaults={"name": "Rook Ferrante", "initials": "RF"}
    )
    return Account.objects.create_user(
        username="rook", password=PASSWORD, role=Account.Role.CREW, person=person
    )


def nobodys() -> Account:
    """Return an account whose person has left."""
    person = Person.objects.create(
        key="gone", name="Gone Away", initials="GA", active=False
    )
    return Account.objects.create_user(
        username="gone", password=PASSWORD, role=Account.Role.CREW, person=person
    )
