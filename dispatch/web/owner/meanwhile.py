"""A form sent after somebody else changed what it shows: what each field comes back with, and what is said beside it."""

from collections.abc import Mapping
from dataclasses import dataclass

# Before the name of the hidden field that holds what a field was shown with.
WAS = "was:"
_BOTH = "It stands at {said} now. Yours goes in its place when you save again."
_THEIRS = "Set to {said} while you were writing."
_BOTH_EMPTY = "It is empty now. Yours goes in its place when you save again."
_THEIRS_EMPTY = "Emptied while you were writing."


@dataclass(frozen=True, kw_only=True)
class Stands:
    """How a field stands now: as a field holds it, and in words, none where it is empty."""

    shown: str
    said: str


@dataclass(frozen=True, kw_only=True)
class Met:
    """What a field comes back with; ``said`` where somebody else changed it, and what was written there is not the same.

    ``both`` where it was written in as well: that is to be looked at before it is stored.
    """

    entered: str
    said: str = ""
    both: bool = False


@dataclass(frozen=True, kw_only=True)
class Crossed:
    """A form that comes back to be sent again, its fields by name; ``sent`` is without what they were shown with before."""

    sent: Mapping[str, str]
    said: Mapping[str, str]


def met(sent: str, was: str | None, now: Stands) -> Met:
    """Whose a field is now: of whoever wrote in it; of whoever else changed it where it was left as it was shown."""
    mine, there = plain(sent), plain(now.shown)
    seen = None if was is None else plain(was)
    if mine == there or (mine != seen and seen == there):
        return Met(entered=sent)
    if mine == seen:
        return Met(entered=now.shown, said=_said(now, _THEIRS, _THEIRS_EMPTY))
    return Met(entered=sent, said=_said(now, _BOTH, _BOTH_EMPTY), both=True)


def _said(now: Stands, set_to: str, emptied: str) -> str:
    return set_to.format(said=now.said) if now.said else emptied


def crossed(sent: Mapping[str, str], stands: Mapping[str, Stands]) -> Crossed:
    """What comes back of a form with some fields, each as it stands now."""
    found = {
        name: met(sent.get(name, ""), sent.get(f"{WAS}{name}"), now)
        for name, now in stands.items()
    }
    kept = {n: v for n, v in sent.items() if n != "seen" and not n.startswith(WAS)}
    return Crossed(
        sent=kept | {name: one.entered for name, one in found.items()},
        said={name: one.said for name, one in found.items() if one.said},
    )


def quoted(text: str) -> str:
    """A text in words, whole: what it stands at may be wanted back."""
    return f"“{text}”" if text else ""


def plain(text: str) -> str:
    """A field's text without what a browser does to it on the way."""
    return text.replace("\r\n", "\n").strip()
