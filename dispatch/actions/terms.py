"""What a job is taken on: entered for a new one, changed later; its stages follow."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any, cast

from django.db import transaction

from dispatch.actions import (
    access,
    asked_prices,
    book,
    due,
    keeping,
    prices,
    regrade,
    stages,
    term_entries,
    turns,
)
from dispatch.actions.book import Terms
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Boat, Job, JobKind, Sheet, Stage

SIZES = ("S", "M", "L")
_COUNTS = tuple(f"repairs_{size}" for size in SIZES)
# The stages that a job is made of hang on these; the rest is agreed with the customer alone.
_WORK = ("sheet", "grade", *_COUNTS, "panels", "sides_only", "fixed_start")
# Of a job that is begun or posted only these may still change: its open stages are reckoned again.
_STILL = {"grade", *_COUNTS, "panels"}
# The visit that begins at its minute or not at all: a boat hangs in the slings then.
_TO_THE_MINUTE = "slings"
_CREW = {Stage.State.UNDER_WAY, Stage.State.DONE}


def blank() -> dict[str, Any]:
    """What a new job begins with."""
    return {
        "kind": None,
        "sheet": None,
        "grade": "2",
        **dict.fromkeys(_COUNTS, 0),
        "panels": 0,
        "sides_only": False,
        "promise": Job.Promise.NONE.value,
        "promised_from": None,
        "promised_by": None,
        "fixed_start": None,
        "price_cents": 0,
        "late_cents_per_hour": 300,
        "unfinished_cents": None,
        "note": "",
    }


def values(job: Job) -> dict[str, Any]:
    """A job's values by name."""
    names = (n for n in blank() if n not in ("kind", "grade", *_COUNTS))
    counts = {f"repairs_{size}": job.repairs.get(size, 0) for size in SIZES}
    found = {name: getattr(job, name) for name in names}
    sheet = job.sheet.key if job.sheet else None
    return found | counts | {"grade": str(job.grade), "sheet": sheet}


def stored(new: Mapping[str, Any]) -> Terms:
    """Values as the table takes them."""
    found = {name: value for name, value in new.items() if name not in _COUNTS}
    if "grade" in found:
        found["grade"] = int(found["grade"])
    if "sheet" in found:
        found["sheet"] = Sheet.objects.filter(key=found["sheet"] or "").first()
    if found.get("unfinished_cents", 0) is None:
        found["unfinished_cents"] = found.get("price_cents", 0)
    if {*_COUNTS} <= set(new):
        given = {size: new[f"repairs_{size}"] for size in SIZES}
        found["repairs"] = {size: count for size, count in given.items() if count}
    return cast("Terms", found)


@transaction.atomic
def take(
    boat: Boat,
    new: Mapping[str, Any],
    *,
    state: str,
    by: Account,
    now: datetime | None = None,
) -> Job:
    """Take a job for a boat into the book, asked for or agreed, under the next number that is free.

    Without a price it is the catalogue's.

    Raises:
        Stranger: the account is not the owner's.
        Refused: boat, place, product and kind do not go together.
    """
    access.owner(by)
    if state not in (Job.State.ASKED, Job.State.AGREED):
        raise Refused("A new job is asked for or agreed. Choose one.")
    kind_row = JobKind.objects.get(key=new["kind"])
    _fixed(kind_row, new)
    priced = {"unfinished_cents": None} | dict(new)
    if priced.get("price_cents") is None:
        priced["price_cents"] = _listed_cents(kind_row, boat, priced)
    given = stored({n: v for n, v in priced.items() if n != "kind"} | {"state": state})
    return book.take_job(
        key=next_key(), boat=boat, kind=kind_row, now=now, by=by, **given
    )


def _fixed(kind_row: JobKind, new: Mapping[str, Any]) -> None:
    """Refuse a fixed minute where no visit of the kind is held to it."""
    held = kind_row.rows.filter(visit=_TO_THE_MINUTE).exists()
    if new.get("fixed_start") is not None and not held:
        raise Refused(
            f"{kind_row.name} has no visit that is held to a minute. Promise days instead."
        )


def _listed_cents(kind_row: JobKind, boat: Boat, new: Mapping[str, Any]) -> int:
    repairs = {size: int(new.get(f"repairs_{size}") or 0) for size in SIZES}
    grade = int(new.get("grade") or blank()["grade"])
    return prices.listed(kind_row, boat, grade=grade, repairs=repairs).cents


def next_key() -> str:
    """The number of the next job: one more than the highest that is in use."""
    used = (key.removeprefix("j") for key in Job.objects.values_list("key", flat=True))
    return f"j{max((int(one) for one in used if one.isdecimal()), default=0) + 1}"


@transaction.atomic
def change(
    job: Job, new: Mapping[str, Any], *, by: Account, why: str = "", seen: str = ""
) -> tuple[str, ...]:
    """Change some of a job's values; return what was changed, in words.

    While none of it is posted or begun its stages are made anew; after that what is open is reckoned again.

    Raises:
        Stranger: the account is not the owner's.
        Refused: the values do not go together, or too much of it is done or posted for the change.
        Stale: it was changed meanwhile.
    """
    access.owner(by)
    stood = (
        Job.objects.select_for_update(of=("self",))
        .select_related("boat__place", "kind", "sheet")
        .get(pk=job.pk)
    )
    before = values(stood)
    keeping.fresh(str(stood), before, seen)
    given = dict(new)
    if given.get("price_cents", 0) is None:
        given["price_cents"] = _listed_cents(stood.kind, stood.boat, before | given)
    if given.get("unfinished_cents", 0) is None:
        given["unfinished_cents"] = given.get("price_cents", before["price_cents"])
    changed = keeping.differing(before, given)
    if not changed:
        return ()
    _fixed(stood.kind, changed)
    book.check_terms(stood.kind, stored(before | changed))
    told = keeping.told(
        term_entries.entered(stood.boat.place.time_zone), before, changed
    )
    counts = {name: (before | changed)[name] for name in _COUNTS}
    whole = changed | counts if {*_COUNTS} & set(changed) else changed
    _restage(stood, stored(whole), set(changed))
    keeping.write("set-job", (f"job {stood.key}", str(stood)), told, by=by, why=why)
    return told


def untouched(job: Job) -> bool:
    """Whether none of a job is posted or begun, so that its stages may be made anew."""
    rows = job.stages.select_related("visit")
    return not any(row.state in _CREW or hasattr(row, "visit") for row in rows)


def _restage(job: Job, rows: Mapping[str, Any], changed: set[str]) -> None:
    """Store the new values, and have the stages follow."""
    work_changed = changed & {*_WORK}
    anew = bool(work_changed) and untouched(job)
    if work_changed - _STILL and not anew:
        raise Refused(
            "Some of this job is posted or begun, so only its condition, repairs and panels may change. "
            "A fixed appointment is moved above, on the job's page. Put her off first to change the rest, which takes her visits off."
        )
    for name, value in rows.items():
        setattr(job, name, value)
    job.version += 1
    job.save()
    asked_prices.later(job)
    if anew:
        make_anew(job)
    elif work_changed:
        due.put("refigure-job", job.key)
        if "grade" in changed:
            regrade.noted(job)


def make_anew(job: Job) -> None:
    """Make a job's stages anew, in the caller's transaction.

    Raises:
        Refused: what ``stages.make`` refuses.
    """
    job.stages.all().delete()
    for stage in stages.make(job):
        due.put("judge-stage", str(stage.pk))
    turns.aim(job)
