"""The people: what they can, when they are on duty, what an hour costs; somebody new, somebody who leaves."""

from collections.abc import Mapping
from datetime import time
from typing import Any

from django.db import transaction

from dispatch.actions import (
    access,
    customers,
    fit_tests,
    history,
    keeping,
    kept_apart,
    skill_words,
)
from dispatch.actions.entries import DOLLARS, Entry
from dispatch.actions.place_bounds import WEEKDAYS
from dispatch.actions.setting_units import Unit
from dispatch.records.models import (
    Account,
    CatalogueRow,
    Duty,
    Person,
    Skill,
)

# Named by the rules of the house, whatever the catalogue's steps ask for.
_NAMED = ("lead", "quote", "spray-1", "spray-2", "hose", "hood")
# Skills that count only while a fit test holds.
_LEVELS = (("1", "1, able"), ("2", "2, well able"), ("3", "3, leads it"))
# What the first person's page begins with: a guess for the owner to change.
_FIRST_HOURS = (time(7), time(17))
_HOURS = Unit(text="h", scale=1 / 60)
_CONSENTS = ("text_consent", "email_consent")
_PLAIN = (
    "name",
    "initials",
    "phone",
    "email",
    "born",
    "drives",
    "tows",
    "not_alone",
    "cents_per_hour",
    "week_regular_minutes",
    "active",
    *_CONSENTS,
)


def skills() -> tuple[str, ...]:
    """Every skill that somebody has or some work asks for."""
    asked = set(CatalogueRow.objects.values_list("skill", flat=True))
    held = set(Skill.objects.values_list("name", flat=True))
    return (*_NAMED, *sorted((asked | held) - {*_NAMED, ""}))


def who() -> tuple[Entry, ...]:
    """Who a person is, what they drive and what an hour of theirs costs."""
    return (
        Entry(name="name", label="Name"),
        Entry(name="initials", label="Initials", longest=4),
        Entry(name="phone", label="Phone", kind="phone", may_lack=True),
        Entry(name="email", label="E-mail", kind="email", may_lack=True),
        Entry(
            name="text_consent",
            label="Agreed to texts when wet film must be covered, at any hour",
            kind="tick",
        ),
        Entry(name="email_consent", label="Agreed to e-mail about it", kind="tick"),
        Entry(
            name="born",
            label="Born",
            kind="date",
            may_lack=True,
            hint="under 18 nobody sprays or handles solvent",
        ),
        Entry(name="drives", label="Drives the vans", kind="tick"),
        Entry(name="tows", label="Tows the trailers", kind="tick"),
        Entry(name="not_alone", label="A trainee, never sent alone", kind="tick"),
        Entry(
            name="cents_per_hour",
            label="An hour costs",
            kind="whole",
            unit=DOLLARS,
            most=100_000,
        ),
        Entry(
            name="week_regular_minutes",
            label="Hours a week at that pay",
            kind="whole",
            unit=_HOURS,
            most=10_080,
        ),
        Entry(
            name="apart",
            label="Never in one team with",
            longest=400,
            may_lack=True,
            hint="names, with commas between",
        ),
        Entry(name="active", label="Works here", kind="tick"),
    )


def able() -> tuple[Entry, ...]:
    """What a person can, with the day a fit test runs out where one is needed."""
    rows: list[Entry] = []
    for skill in skills():
        label = skill_words.called(skill).capitalize()
        rows.append(
            Entry(
                name=f"skill_{skill}",
                label=label,
                kind="pick",
                choices=_LEVELS,
                may_lack=True,
                hint=skill_words.MEANS.get(skill, ""),
            )
        )
        if skill in fit_tests.FITTED:
            rows.append(
                Entry(
                    name=f"fit_{skill}",
                    label=f"{label}: fit test until",
                    kind="date",
                    may_lack=True,
                )
            )
    return tuple(rows)


def hours() -> tuple[Entry, ...]:
    """When a person is on duty, by weekday; both empty where they are off."""
    return tuple(
        Entry(
            name=f"{day.lower()}_{end}",
            label=f"{day} {end}",
            kind="time",
            may_lack=True,
        )
        for day in WEEKDAYS
        for end in ("from", "to")
    )


def entered() -> tuple[Entry, ...]:
    """Everything entered of a person."""
    return (*who(), *able(), *hours())


def blank() -> dict[str, Any]:
    """What somebody new begins with."""
    given = {
        **dict.fromkeys(("drives", "tows", "not_alone", *_CONSENTS), False),
        "active": True,
        "cents_per_hour": 3800,
        "week_regular_minutes": 2400,
    }
    return {entry.name: None for entry in entered()} | given | usual_hours()


def usual_hours() -> dict[str, Any]:
    """The hours of whoever was added last, for the next are often the same; else a working week."""
    last = Person.objects.filter(active=True, duties__isnull=False).order_by("pk")
    if (person := last.last()) is not None:
        held = values(person)
        return {entry.name: held[entry.name] for entry in hours()}
    return {
        f"{day.lower()}_{end}": at
        for day in WEEKDAYS[:5]
        for end, at in zip(("from", "to"), _FIRST_HOURS, strict=True)
    }


def values(person: Person) -> dict[str, Any]:
    """A person's values by name."""
    found: dict[str, Any] = {e.name: None for e in (*able(), *hours())}
    found |= {name: getattr(person, name) for name in _PLAIN}
    for skill in person.skills.all():
        found[f"skill_{skill.name}"] = str(skill.level)
        if skill.name in fit_tests.FITTED:
            found[f"fit_{skill.name}"] = skill.fit_test_until
    for duty in person.duties.all():
        day = WEEKDAYS[duty.weekday].lower()
        found |= {f"{day}_from": duty.start, f"{day}_to": duty.end}
    return found | {"apart": kept_apart.names(person)}


def faults(new: Mapping[str, Any]) -> dict[str, str]:
    """What does not go together, a sentence by name."""
    found = customers.unreachable(new)
    if new.get("tows") and not new.get("drives"):
        found["tows"] = "Whoever tows drives. Tick both, or take this one out."
    for skill in fit_tests.FITTED:
        if new.get(f"fit_{skill}") and not new.get(f"skill_{skill}"):
            found[f"fit_{skill}"] = "A fit test is of a skill. Choose its level too."
    for day in WEEKDAYS:
        start, end = (new.get(f"{day.lower()}_{one}") for one in ("from", "to"))
        if (start is None) != (end is None) or (start and end and end <= start):
            found[f"{day.lower()}_to"] = (
                f"{day}: give both times, the later one last, or leave both empty."
            )
    return found


@transaction.atomic
def add(new: Mapping[str, Any], *, by: Account) -> Person:
    """Add somebody who works here.

    Raises:
        Stranger: the account is not the owner's.
        Refused: values do not go together.
    """
    access.owner(by)
    keeping.refuse(faults(new))
    plain = {name: new[name] for name in _PLAIN}
    person = Person.objects.create(
        key=keeping.new_key(new["name"], Person.objects.all()), **_texts(plain)
    )
    _rows(person, new)
    history.write("add-person", f"person {person.key}", f"Added {person.name}.", by=by)
    return person


@transaction.atomic
def change(
    person: Person,
    new: Mapping[str, Any],
    *,
    by: Account,
    why: str = "",
    seen: str = "",
) -> tuple[str, ...]:
    """Change some of a person's values; return what was changed, in words. Posted visits are not moved.

    Raises:
        Stranger: the account is not the owner's.
        Refused: values do not go together.
        Stale: they were changed meanwhile.
    """
    access.owner(by)
    stood = Person.objects.select_for_update().get(pk=person.pk)
    before = values(stood)
    keeping.fresh(stood.name, before, seen)
    after = before | dict(new)
    keeping.refuse(faults(after))
    changed = keeping.differing(before, new)
    if not changed:
        return ()
    plain = {name: value for name, value in changed.items() if name in _PLAIN}
    if plain:
        Person.objects.filter(pk=stood.pk).update(**_texts(plain))
    _rows(stood, after)
    told = keeping.told(entered(), before, changed)
    keeping.write(
        "set-person", (f"person {stood.key}", stood.name), told, by=by, why=why
    )
    return told


def _texts(plain: Mapping[str, Any]) -> dict[str, Any]:
    """The same with no None where the table holds a text."""
    return {
        name: "" if value is None and name in ("phone", "email") else value
        for name, value in plain.items()
    }


def _rows(person: Person, new: Mapping[str, Any]) -> None:
    """Write skills, hours and who is kept apart as they now are."""
    person.skills.all().delete()
    Skill.objects.bulk_create(
        Skill(
            person=person,
            name=skill,
            level=int(new[f"skill_{skill}"]),
            fit_test_until=new.get(f"fit_{skill}"),
        )
        for skill in skills_in(new)
    )
    person.duties.all().delete()
    Duty.objects.bulk_create(
        Duty(person=person, weekday=number, start=start, end=new[f"{day.lower()}_to"])
        for number, day in enumerate(WEEKDAYS)
        if (start := new.get(f"{day.lower()}_from")) is not None
    )
    kept_apart.keep(person, new.get("apart") or "")


def skills_in(new: Mapping[str, Any]) -> tuple[str, ...]:
    """The skills that some values give a level."""
    named = (name for name, value in new.items() if name.startswith("skill_") and value)
    return tuple(name.removeprefix("skill_") for name in named)
