"""A form of entries, shown as they stand, read when it is sent, and shown again with what is wrong."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, cast

from django.contrib import messages
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import redirect, render

from dispatch.actions import entries, keeping
from dispatch.actions.entries import Entry
from dispatch.actions.errors import Refused, Stale
from dispatch.records.models import Account
from dispatch.web.owner import meanwhile, where
from dispatch.web.owner.meanwhile import Stands

WHY_MOST = 500
_TEXTS = ("text", "lines", "phone", "email", "zone")
Groups = tuple[tuple[str, tuple[Entry, ...]], ...]


@dataclass(frozen=True, kw_only=True)
class Field:
    """One field as it is drawn: ``entered`` is what stands or what was sent, ``under`` begins its id where a page has more forms.

    ``was`` is what it was shown with, where anything stood; ``now`` says what stands where somebody else changed it.
    """

    entry: Entry
    entered: str
    fault: str
    under: str = ""
    was: str | None = None
    now: str = ""

    @property
    def key(self) -> str:
        """Its id on the page."""
        return f"{self.under}{self.entry.name}"

    @property
    def keys(self) -> str:
        """Which keys a phone offers for a number: those for decimals alone have no minus on some."""
        return "text" if self.entry.least < 0 else "decimal"

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
class Back:
    """A form on its way back: what was sent, what is wrong by name, and what somebody else changed meanwhile, by name."""

    sent: Mapping[str, str] | None = None
    faults: Mapping[str, str] = field(default_factory=dict)
    crossed: Mapping[str, str] | None = None


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
        return _shown(request, form, Back(), template, more)
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
        except Stale as stale:
            again = meanwhile.crossed(sent, _stand(form))
            back = Back(sent=again.sent, faults={"": str(stale)}, crossed=again.said)
            return _shown(request, form, back, template, more)
        except Refused as refusal:
            faults = {"": str(refusal)}
        else:
            # On the way to a first week each page leads back to its steps, which say in short what was done.
            first = "start" in request.GET
            short = first and not form.fresh
            messages.success(request, f"{form.title}: stored." if short else told)
            return redirect("steps" if first else address)
    back = Back(sent=sent, faults=faults)
    return _shown(request, form, back, template, more)


def read(form: Form, sent: Mapping[str, str]) -> tuple[dict[str, Any], dict[str, str]]:
    """What was sent as values, and every fault by name; what is written as it was shown is as it stood."""
    values, faults = entries.read_over(form.entries, sent, form.stands)
    return values, faults or dict(form.check(values))


def parted(rows: tuple[Entry, ...], begins: Sequence[tuple[str, str]]) -> Groups:
    """Entries in groups: what each is called, and the entry it begins with, the first with the first."""
    names = [entry.name for entry in rows]
    starts = [names.index(name) for _, name in begins]
    ends = (*starts[1:], len(rows))
    return tuple(
        (title, rows[start:end])
        for (title, _), start, end in zip(begins, starts, ends, strict=True)
    )


def changed_words(told: tuple[str, ...]) -> str:
    """What a change did, as the page says it."""
    return (
        f"Set: {'; '.join(told)}."
        if told
        else "Nothing was different, so nothing was changed."
    )


def _stand(form: Form) -> dict[str, Stands]:
    """How every field of a form stands now."""
    return {
        entry.name: _stands(entry, form.stands.get(entry.name))
        for entry in form.entries
    }


def _stands(entry: Entry, value: Any) -> Stands:  # noqa: ANN401 - whatever the table holds
    said = "" if entry.lacks(value) else entry.said(value)
    text = entry.kind in _TEXTS and value
    return Stands(
        shown=_as_sent(entry, entry.shown(value)),
        said=meanwhile.quoted(said) if text else said,
    )


def _as_sent(entry: Entry, shown: str) -> str:
    """What is shown, as a browser sends it."""
    if entry.kind == "tick":
        return "on" if shown == entries.YES else ""
    return shown.replace(" ", "T") if entry.kind == "moment" else shown


def _field(entry: Entry, form: Form, back: Back) -> Field:
    sent, name = back.sent, entry.name
    value = form.stands.get(name)
    stands = entry.shown(form.offers.get(name) if value is None else value)
    shown = _stands(entry, value).shown
    return Field(
        entry=entry,
        entered=stands if sent is None else sent.get(name, ""),
        fault=back.faults.get(name, ""),
        was=None if form.fresh else (sent or {}).get(f"{meanwhile.WAS}{name}", shown),
        now=(back.crossed or {}).get(name, ""),
    )


def context(form: Form, back: Back) -> dict[str, Any]:
    """What a template needs to draw a form."""
    given, faults, crossed = back.sent or {}, back.faults, back.crossed
    return {
        "form": form,
        "here": form.here,
        "groups": tuple(
            (title, tuple(_field(entry, form, back) for entry in rows))
            for title, rows in form.groups
        ),
        "refused": faults.get("", ""),
        "crossed": None
        if crossed is None
        else [(one.name, one.label) for one in form.entries if one.name in crossed],
        "faults": {name: said for name, said in faults.items() if name},
        "why": given.get("why", ""),
        "why_fault": faults.get("why", ""),
        "seen": given.get("seen")
        or ("" if form.fresh else keeping.print_of(form.stands)),
    }


def _shown(
    request: HttpRequest,
    form: Form,
    back: Back,
    template: str,
    more: Mapping[str, Any] | None,
) -> HttpResponseBase:
    found = context(form, back) | dict(more or {})
    return render(request, template, found, status=422 if back.faults else 200)
