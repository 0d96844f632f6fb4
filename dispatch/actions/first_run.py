"""An empty house: whoever runs it makes it theirs, or fills it with sample data."""

import json
import secrets
from base64 import b32encode
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from django.conf import settings
from django.db import transaction
from django.utils.crypto import constant_time_compare, salted_hmac

from dispatch.actions import due, history, outfit, scenario, scenario_rows, sign_in
from dispatch.actions.entries import Entry
from dispatch.actions.errors import Refused, Stale
from dispatch.records.models import (
    Account,
    Outfit,
    Person,
    Place,
)

_FIXTURES = Path(settings.BASE_DIR) / "fixtures"
_TAKEN = "This house has its owner already. Sign in."
UNKNOWN = (
    "That is not the word of this house. Whoever runs it sees the word where it was started, "
    "and by manage.py first_word."
)


def empty() -> bool:
    """Whether nobody has made the house theirs: neither an outfit nor an owner."""
    owners = Account.objects.filter(role=Account.Role.OWNER)
    return not Outfit.objects.exists() and not owners.exists()


def word() -> str:
    """The word that shows who runs the house: told where it is started, asked for on its first page.

    Made of the house's secret, so it is the same at every start and no stranger knows it.
    """
    made = b32encode(salted_hmac("leeboard.first-run", "", algorithm="sha256").digest())
    return f"{made[:4].decode()}-{made[4:8].decode()}".lower()


def entered() -> tuple[Entry, ...]:
    """What is entered of the outfit and its owner; the password apart."""
    name, *others = outfit.named()
    return (
        replace(name, name="outfit"),
        *others,
        Entry(name="name", label="Your name"),
        Entry(name="initials", label="Your initials", longest=4),
        Entry(
            name="username",
            label="The name you sign in with",
            longest=40,
            hint="small letters",
        ),
    )


@transaction.atomic
def begin(new: Mapping[str, Any], password: str, said: str) -> Account:
    """Make an empty house somebody's: outfit, owner with a sign-in, the stage catalogue; all or nothing.

    Raises:
        Stale: it has its owner already.
        Refused: the word said is another, or the name or the password will not do.
    """
    _may_begin(said)
    username = new["username"].lower()
    if not username.isascii() or not username.replace("-", "").isalnum():
        raise Refused("Sign in with small letters, figures and hyphens alone.")
    _, mine = Outfit.objects.get_or_create(
        pk=1,
        defaults={
            "name": new["outfit"],
            "town": new["town"],
            "time_zone": new["time_zone"],
            "units": new["units"],
        },
    )
    if not mine:
        raise Stale(_TAKEN)
    person = Person.objects.create(
        key=username, name=new["name"], initials=new["initials"]
    )
    if Account.objects.filter(username=username).exists():
        raise Refused(f"There is a sign-in {username} already. Choose another name.")
    account = Account(username=username, role=Account.Role.OWNER, person=person)
    sign_in.sound(password, account)
    account.set_password(password)
    account.save()
    scenario.load_catalogue(scenario_rows.parsed(_FIXTURES / "catalogue.json"))
    told = f"{person.name} made this house {new['outfit']}'s."
    history.write("begin", "outfit name", told, by=account)
    return account


@transaction.atomic
def sample(said: str) -> tuple[Account, str]:
    """Fill an empty house with the invented outfit; return its owner and the password made for them.

    The others' passwords are nobody's: the owner gives them new ones.

    Raises:
        Stale: it has its owner already.
        Refused: the word said is another.
    """
    _may_begin(said)
    people = json.loads((_FIXTURES / "demo" / "people.json").read_text("utf-8"))
    owner = next(one["key"] for one in people if one.get("owner"))
    passwords = {one["key"]: _made_up() for one in people}
    scenario.load(_FIXTURES / "demo", passwords=passwords)
    for place in Place.objects.all():
        due.put("take-in-forecast", place.key)
    return Account.objects.get(username=owner), passwords[owner]


def _made_up() -> str:
    """A password nobody guesses, in fours that are easily copied by hand."""
    made = b32encode(secrets.token_bytes(10)).decode().lower()
    return "-".join(made[n : n + 4] for n in range(0, len(made), 4))


def is_word(said: str) -> bool:
    """Whether what was said is the word of this house."""
    return constant_time_compare(said.strip().lower(), word())


def _may_begin(said: str) -> None:
    if not empty():
        raise Stale(_TAKEN)
    if not is_word(said):
        raise Refused(UNKNOWN)
