"""Load a whole scenario into an empty house: its outfit, places, people, gear and jobs."""

from collections.abc import Mapping
from pathlib import Path

from django.conf import settings
from django.db import transaction

from dispatch.actions import (
    book,
    clock,
    drives,
    plugins,
    scenario_people,
    scenario_rows,
)
from dispatch.actions.errors import Refused
from dispatch.actions.scenario_rows import Entry, found, made, moment, read, stored
from dispatch.records.models import (
    AccessHours,
    Boat,
    Can,
    CatalogueRow,
    Closure,
    Customer,
    Equipment,
    Job,
    JobKind,
    Outfit,
    Place,
    Sheet,
    Standing,
    Van,
)


@transaction.atomic
def load_catalogue(rows: object) -> None:
    """Store kinds of job with their steps, in the order given; all or nothing.

    ``rows`` is parsed JSON: objects with the fields of a kind of job, and ``rows`` with those of its steps.

    Raises:
        Refused: an entry is wrong; the sentence names it.
    """
    for entry in scenario_rows.entries(rows, "catalogue.json"):
        kind = stored(JobKind, entry, apart=("rows",))
        for position, row in enumerate(entry.within("rows"), start=1):
            stored(CatalogueRow, row, kind=kind, position=position)


@transaction.atomic
def load(folder: Path, *, passwords: Mapping[str, str]) -> None:
    """Load a scenario's files into an empty house; all or nothing.

    The catalogue is read from ``catalogue.json`` beside the folder, unless there is one in the house already.
    ``passwords`` gives one for each person's key, which is also the account's name.

    Raises:
        Refused: there is an outfit already, a password is missing, or a file is wrong; the sentence names its entry and field.
    """
    if Outfit.objects.exists():
        raise Refused(
            "There is an outfit in this house already. Load the scenario into an empty one."
        )
    for entry in read(folder / "outfit.json")[:1]:
        stored(Outfit, entry, pk=1)
    if not JobKind.objects.exists():
        load_catalogue(scenario_rows.parsed(folder.parent / "catalogue.json"))
    _places(folder)
    scenario_people.load(read(folder / "people.json"), passwords)
    _gear(folder)
    _products(folder)
    _boats(folder)
    for entry in read(folder / "jobs.json"):
        _job(entry)
    for entry in read(folder / "plugins.json"):
        _plugin(entry, folder)


def _places(folder: Path) -> None:
    for entry in read(folder / "places.json"):
        place = stored(Place, entry, apart=("access", "closures"))
        for hours in entry.within("access"):
            for weekday in hours.weekdays():
                stored(
                    AccessHours, hours, apart=("days",), place=place, weekday=weekday
                )
        for closure in entry.within("closures"):
            stored(Closure, closure, place=place)


def _gear(folder: Path) -> None:
    for entry in read(folder / "vans.json"):
        stored(Van, entry, apart=("base",), base=found(Place, entry, "base"))
    for entry in read(folder / "equipment.json"):
        thing = stored(Equipment, entry, apart=("stands_at", "stands_since"))
        place = found(Place, entry, "stands_at")
        Standing.objects.create(
            equipment=thing, place=place, since=moment(entry, "stands_since")
        )


def _products(folder: Path) -> None:
    for entry in read(folder / "sheets.json"):
        stored(Sheet, entry)
    for entry in read(folder / "cans.json"):
        kept = (
            {"place": found(Place, entry, "place")} if "place" in entry.values else {}
        )
        sheet = found(Sheet, entry, "sheet")
        stored(Can, entry, apart=("sheet", "place"), sheet=sheet, **kept)


def _boats(folder: Path) -> None:
    for entry in read(folder / "customers.json"):
        stored(Customer, entry)
    for entry in read(folder / "boats.json"):
        stored(
            Boat,
            entry,
            apart=("customer", "place"),
            customer=found(Customer, entry, "customer", by="name"),
            place=found(Place, entry, "place"),
        )


def _job(entry: Entry) -> None:
    """Take one job into the book, with what of it was done before."""
    apart = ("boat", "kind", "sheet", "done_stages")
    asked = made(
        Job,
        entry,
        apart=apart,
        boat=found(Boat, entry, "boat"),
        kind=found(JobKind, entry, "kind"),
        sheet=found(Sheet, entry, "sheet") if "sheet" in entry.values else None,
        taken_at=clock.now(),
    )
    try:
        job = book.take_job(
            key=asked.key,
            boat=asked.boat,
            kind=asked.kind,
            now=asked.taken_at,
            sheet=asked.sheet,
            grade=asked.grade,
            repairs=asked.repairs,
            panels=asked.panels,
            sides_only=asked.sides_only,
            promise=asked.promise,
            promised_from=asked.promised_from,
            promised_by=asked.promised_by,
            fixed_start=asked.fixed_start,
            price_cents=asked.price_cents,
            late_cents_per_hour=asked.late_cents_per_hour,
            unfinished_cents=asked.unfinished_cents,
            bumped=asked.bumped,
            note=asked.note,
        )
        for done in entry.within("done_stages"):
            _done(job, done)
    except Refused as error:
        if str(error).startswith(entry.file):
            raise
        entry.refuse("the whole", str(error))


def _done(job: Job, entry: Entry) -> None:
    stage = job.stages.filter(key=entry.get("key")).first()
    if stage is None:
        entry.refuse("key", f"the job has no stage {entry.get('key')}.")
    started = moment(entry, "started_at") if "started_at" in entry.values else None
    book.mark_done(stage, started_at=started, ended_at=moment(entry, "ended_at"))


def _plugin(entry: Entry, folder: Path) -> None:
    """Enable a plugin; ``{scenario}`` and ``{data}`` in its options are the scenario's and the keeper's folders."""
    options = entry.get("options")
    if not isinstance(options, dict):
        entry.refuse("options", "they should be an object.")
    roots = {
        "{scenario}": str(folder.resolve()),
        "{data}": str(Path(settings.DATA_DIR).resolve()),
    }
    try:
        plugins.enable(
            str(entry.get("name")),
            {name: _rooted(value, roots) for name, value in options.items()},
        )
    except Refused as error:
        entry.refuse("options", str(error))
    # One that tells drives is asked at once, not within the hour.
    drives.later()


def _rooted(value: object, roots: Mapping[str, str]) -> object:
    if isinstance(value, str):
        for mark, root in roots.items():
            value = value.replace(mark, root)
    return value
