"""The tokens that machines sign in with: one an account."""

from typing import Any

from django.apps import apps
from django.db import transaction

from dispatch.actions import history
from dispatch.records.models import Account


@transaction.atomic
def of(account: Account) -> str:
    """The account's token, made the first time it is asked for."""
    token, made = _table().objects.get_or_create(user=account)
    if made:
        history.write(
            "make-token",
            f"account {account.username}",
            f"Made a token for {account.username}.",
            by=account,
        )
    return str(token.key)


@transaction.atomic
def drop(account: Account) -> None:
    """Drop the account's token: whoever holds it is signed out, and the next sign-in makes another."""
    dropped, _ = _table().objects.filter(user=account).delete()
    if dropped:
        history.write(
            "drop-token",
            f"account {account.username}",
            f"Dropped the token of {account.username}.",
            by=account,
        )


# The sign-in library's own table, by name: this room knows no library of the doors.
def _table() -> Any:  # noqa: ANN401 - a model known at run time
    return apps.get_model("authtoken", "Token")
