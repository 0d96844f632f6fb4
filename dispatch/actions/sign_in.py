"""A person's own sign-in: given by the owner, with a password that is not guessed at once."""

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction

from dispatch.actions import access, history
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Person


@transaction.atomic
def give(person: Person, password: str, *, by: Account) -> Account:
    """Give a person a sign-in of the crew under their key, or another password to the one they have.

    Raises:
        Stranger: the account is not the owner's.
        Refused: the password is too easily guessed, or the name is somebody else's.
    """
    access.owner(by)
    account = Account.objects.filter(person=person).first()
    if account is None and Account.objects.filter(username=person.key).exists():
        raise Refused(
            f"The name {person.key} is another's. Change this person's name first."
        )
    account = account or Account(
        username=person.key, role=Account.Role.CREW, person=person
    )
    sound(password, account)
    account.set_password(password)
    account.save()
    told = f"{person.name} may sign in as {account.username}, with a new password."
    history.write("give-sign-in", f"person {person.key}", told, by=by)
    return account


def sound(password: str, account: Account) -> None:
    """Check that a password is not guessed at once.

    Raises:
        Refused: it is.
    """
    try:
        validate_password(password, account)
    except ValidationError as error:
        raise Refused(" ".join(error.messages)) from error
