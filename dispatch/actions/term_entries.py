"""What is entered of a job: its kind, how much there is to do, what was promised, money."""

from collections.abc import Iterable
from dataclasses import replace

from dispatch.actions.entries import DOLLARS, Entry
from dispatch.records.models import Job, JobKind, Sheet

_GRADES = (
    ("1", "1, glossy"),
    ("2", "2, dull"),
    ("3", "3, chalks a dark rag"),
    ("4", "4, peeling or chalk comes off wet"),
)


def entered(zone: str) -> tuple[Entry, ...]:
    """What is entered of a job, its moments on the clock of a zone; the kind only when it is taken."""
    return (*work(), *promised(zone), *money())


def kind() -> Entry:
    """The kind of a new job."""
    rows = JobKind.objects.exclude(rows=None).distinct()
    found = tuple(rows.values_list("key", "name"))
    return Entry(name="kind", label="Kind of job", kind="pick", choices=found)


def work() -> tuple[Entry, ...]:
    """What of a job says how much there is to do."""
    sheets = tuple(Sheet.objects.values_list("key", "name"))
    return (
        Entry(
            name="sheet",
            label="Product",
            kind="pick",
            choices=sheets,
            may_lack=True,
            hint="where something is laid on her",
        ),
        Entry(name="grade", label="Condition", kind="pick", choices=_GRADES),
        *(_count(f"repairs_{s}", f"Repairs, {w}") for s, w in _repair_words()),
        _count("panels", "Panels to be put right"),
        Entry(
            name="sides_only",
            label="Sides only, neither transom nor rail",
            kind="tick",
        ),
    )


def promised(zone: str) -> tuple[Entry, ...]:
    """What of a job was promised, on the clock of a zone."""
    return (
        Entry(
            name="promise",
            label="Promise",
            kind="pick",
            choices=tuple((str(k), str(v)) for k, v in Job.Promise.choices),
        ),
        Entry(
            name="promised_from",
            label="Promised from",
            kind="moment",
            may_lack=True,
            clock_zone=zone,
        ),
        Entry(
            name="promised_by",
            label="Promised by",
            kind="moment",
            may_lack=True,
            clock_zone=zone,
        ),
        Entry(
            name="fixed_start",
            label="Fixed appointment",
            kind="moment",
            may_lack=True,
            clock_zone=zone,
            hint="a lift slot, to the minute: when the crew begins there, so 15 min before the lift",
        ),
    )


def money() -> tuple[Entry, ...]:
    """What of a job is money, and what is noted."""
    most = 100_000_000
    return (
        Entry(
            name="price_cents",
            label="Agreed price",
            kind="whole",
            unit=DOLLARS,
            most=most,
        ),
        Entry(
            name="late_cents_per_hour",
            label="An hour late costs",
            kind="whole",
            unit=DOLLARS,
            most=1_000_000,
        ),
        Entry(
            name="unfinished_cents",
            label="Left out of a week it costs",
            kind="whole",
            unit=DOLLARS,
            most=most,
            may_lack=True,
            hint="left empty, the price",
        ),
        Entry(name="note", label="Note", kind="lines", longest=2000, may_lack=True),
    )


def unpriced(rows: Iterable[Entry]) -> tuple[Entry, ...]:
    """The same entries, the price one that may be left empty: it is the catalogue's then."""
    hint = "left empty, the catalogue's"
    return tuple(
        replace(entry, may_lack=True, hint=hint)
        if entry.name == "price_cents"
        else entry
        for entry in rows
    )


def _count(name: str, label: str) -> Entry:
    return Entry(name=name, label=label, kind="whole", most=99)


def _repair_words() -> tuple[tuple[str, str], ...]:
    return (("S", "small"), ("M", "medium"), ("L", "large"))
