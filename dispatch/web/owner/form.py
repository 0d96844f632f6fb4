"""A form of entries, shown as they stand, read when it is sent, and shown again with what is wrong."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, cast

from django.contrib import messages
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import redirect, render

from dispatch.actions import entries, keeping
from dispatch.actions.entries import Entry
from dispatch.actions.errors import Refused
from dispatch.records.models import Account
from dispatch.web.owner import where

WHY_MOST = 500
Groups = tuple[tuple[str, tuple[Entry, ...]], ...]


@dataclass(frozen=True, kw_only=True)
class Field:
    """One field as it is drawn: ``entered`` is what stands or what was sent, ``under`` begins its id where a page has more forms."""

    entry: Entry
    entered: str
    fault: str
    under: str = ""

    @property
    def ticked(self) -> bool:
        """Whether a tick is set."""
        return self.entered in ("on", entries.YES)

    @property
    def moment(self) -> str:
        """A moment as the browser's own field wants it."""
        return self.entered.replace(" ", "T")


@dataclass(frozen=True, kw_only=True)
class Sent:
    """What the owner sent: values by name, the reason, and the print of what they saw."""

    values: Mapping[str, Any]
    by: Account
    why: str
    seen: str


@dataclass(frozen=True, kw_only=True)
class Form:
    """A form: what is entered in which groups, what stands, and what sending it does.

    ``offers`` is filled in where nothing stands yet, to be sent or changed.
    ``check`` tells what does not go together; ``store`` keeps it and returns the address to go to next and a sentence.
    """

    title: str
    here: str
    groups: Groups
    stands: Mapping[str, Any]
    store: Callable[[Sent], tuple[str, str]]
    button: str
    check: Callable[[Mapping[str, Any]], Mapping[str, str]] = field(
        default=lambda _: {}
    )
    offers: Mapping[str, Any] = field(default_factory=dict)
    back: tuple[str, str] = ("", "")
    lead: str = ""
    does: str = ""
    asks_why: bool = True
    fresh: bool = False

    @property
    def entries(self) -> tuple[Entry, ...]:
        """Every entry of it."""
        return tuple(entry for _, rows in self.groups for entry in rows)


def answer(
    request: HttpRequest,
    form: Form,
    *,
    template: str = "owner/form.html",
    more: Mapping[str, Any] | None = None,
) -> HttpResponseBase:
    """Show a form, or store what was sent of it and go on."""
    if request.method != "POST":
        return _shown(request, form, None, {}, template, more)
    sent = where.apart(cast("Mapping[str, str]", request.POST.dict()))
    values, faults = read(form, sent)
    why = sent.get("why", "").strip()
    if len(why) > WHY_MOST:
        faults["why"] = f"Keep the reason under {WHY_MOST} characters."
    if not faults:
        given = Sent(
            values=values,
            by=cast("Account", request.user),
            why=why,
            seen=sent.get("seen", ""),
        )
        try:
            address, told = form.store(given)
        except Refused as refusal:
            faults = {"": str(refusal)}
        else:
            # On the way to a first week each page leads back to its steps, which say in short what was done.
            first = "start" in request.GET
            short = first and not form.fresh
            messages.success(request, f"{form.title}: stored." if short else told)
            return redirect("steps" if first else address)
    return _shown(request, form, sent, faults, template, more)


def read(form: Form, sent: Mapping[str, str]) -> tuple[dict[str, Any], dict[str, str]]:
    """What was sent as values, and every fault by name; what is written as it was shown is as it stood."""
    values, faults = entries.read_over(form.entries, sent, form.stands)
    return values, faults or dict(form.check(values))


def changed_words(told: tuple[str, ...]) -> str:
    """What a change did, as the page says it."""
    return (
        f"Set: {'; '.join(told)}."
        if told
        else "Nothing was different, so nothing was changed."
    )


def fields(
    form: Form, sent: Mapping[str, str] | None, faults: Mapping[str, str]
) -> tuple[tuple[str, tuple[Field, ...]], ...]:
    """The form's fields by group, as they stand or as they were sent."""
    return tuple(
        (title, tuple(_field(entry, form, sent, faults) for entry in rows))
        for title, rows in form.groups
    )


def _field(
    entry: Entry, form: Form, sent: Mapping[str, str] | None, faults: Mapping[str, str]
) -> Field:
    value = form.stands.get(entry.name)
    stands = entry.shown(form.offers.get(entry.name) if value is None else value)
    return Field(
        entry=entry,
        entered=stands if sent is None else sent.get(entry.name, ""),
        fault=faults.get(entry.name, ""),
    )


def context(
    form: Form, sent: Mapping[str, str] | None, faults: Mapping[str, str]
) -> dict[str, Any]:
    """What a template needs to draw a form."""
    given = sent or {}
    return {
        "form": form,
        "here": form.here,
        "groups": fields(form, sent, faults),
        "refused": faults.get("", ""),
        "faults": {name: said for name, said in faults.items() if name},
        "why": given.get("why", ""),
        "why_fault": faults.get("why", ""),
        "seen": given.get("seen")
        or ("" if form.fresh else keeping.print_of(form.stands)),
    }


def _shown(
    request: HttpRequest,
    form: Form,
    sent: Mapping[str, str] | None,
    faults: Mapping[str, str],
    template: str,
    more: Mapping[str, Any] | None,
) -> HttpResponseBase:
    found = context(form, sent, faults) | dict(more or {})
    return render(request, template, found, status=422 if faults else 200)
