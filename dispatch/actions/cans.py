"""Cans in store: counted, added, taken out; and what runs short before more can arrive."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Any
from zoneinfo import ZoneInfo

from django.db import transaction

from dispatch.actions import (
    access,
    clock,
    entries,
    history,
    keeping,
    kept_in,
    rates,
    setting_units,
    to_lay,
)
from dispatch.actions.entries import Entry
from dispatch.actions.stores import keeps, usable_ml
from dispatch.records.models import Account, Can, Job, Outfit, Sheet, Stage
from dispatch.trade import film, stock, units
from dispatch.trade.words import Words

_MORNING = time(8)
_MOST_ML = 200_000


@dataclass(frozen=True, kw_only=True)
class Ahead:
    """A product, what of it is in store and what the open jobs want of it, in words.

    ``needed`` counts the carry reserve in. ``short_on`` is the day on which the cans no longer do, None where they
    do; ``order_by`` the last moment to order for it, ``packs`` how many. Empty ``undated`` where every job that
    wants it has a day.
    """

    sheet: Sheet
    rows: tuple[tuple[Can, str, bool, str], ...]
    usable: str
    past: str
    needed: str
    short: str
    packs: int
    short_on: date | None
    order_by: datetime | None
    too_late: bool
    undated: tuple[str, ...]


def entered() -> tuple[Entry, ...]:
    """What is entered of cans of one sort."""
    us = entries.system() == "us"
    volume = (
        setting_units.Unit(text="oz", scale=1 / units.US_FL_OZ_ML)
        if us
        else setting_units.Unit(text="ml")
    )
    sheets = tuple(Sheet.objects.values_list("key", "name"))
    return (
        Entry(name="sheet", label="Product", kind="pick", choices=sheets),
        Entry(name="count", label="Cans", kind="whole", least=1, most=999),
        Entry(
            name="left_ml",
            label="In each",
            kind="number",
            unit=volume,
            most=_MOST_ML,
        ),
        Entry(
            name="opened_on",
            label="Opened on",
            kind="date",
            may_lack=True,
            hint="empty while sealed",
        ),
        Entry(
            name="kept_in",
            label="Kept in",
            kind="pick",
            may_lack=True,
            choices=kept_in.choices(),
        ),
    )


def blank() -> dict[str, Any]:
    """What new cans begin with."""
    return {
        "sheet": None,
        "count": 1,
        "left_ml": None,
        "opened_on": None,
        "kept_in": None,
    }


def values(can: Can) -> dict[str, Any]:
    """Values of cans by name."""
    plain = (entry for entry in entered() if entry.name != "kept_in")
    return keeping.stands(can, plain) | {"kept_in": kept_in.of(can)}


@transaction.atomic
def add(new: Mapping[str, Any], *, by: Account) -> Can:
    """Put cans in store.

    Raises:
        Stranger: the account is not the owner's.
    """
    access.owner(by)
    can = Can.objects.create(**_row(new))
    told = f"{_words(can)} put in store."
    history.write("add-can", f"can {can.pk}", told, by=by)
    return can


@transaction.atomic
def change(
    can: Can, new: Mapping[str, Any], *, by: Account, why: str = "", seen: str = ""
) -> tuple[str, ...]:
    """Set cans to what was counted; return what was changed, in words. Coats reported later but laid before take no more.

    Raises:
        Stranger: the account is not the owner's.
        Stale: a report took of them meanwhile.
    """
    access.owner(by)
    stood = (
        Can.objects.select_for_update(of=("self",))
        .select_related("sheet")
        .get(pk=can.pk)
    )
    before = values(stood)
    keeping.fresh("The store", before, seen)
    changed = keeping.differing(before, new)
    if not changed:
        return ()
    Can.objects.filter(pk=stood.pk).update(**_row(changed))
    Sheet.objects.filter(cans=stood.pk).update(counted_at=clock.now())
    told = keeping.told(entered(), before, changed)
    name = f"{stood.sheet.name} in store"
    keeping.write("set-can", (f"can {stood.pk}", name), told, by=by, why=why)
    return told


@transaction.atomic
def remove(can: Can, *, by: Account, why: str = "") -> None:
    """Take cans out of the store: spoilt, lost or given back.

    Raises:
        Stranger: the account is not the owner's.
    """
    access.owner(by)
    told = f"{_words(can)} taken out of the store."
    history.write("remove-can", f"can {can.pk}", told, by=by, why=why)
    Can.objects.filter(pk=can.pk).delete()


def ahead() -> tuple[Ahead, ...]:
    """Every product with what is in store of it and what is wanted."""
    wanted = _wanted()
    rows = Sheet.objects.prefetch_related("cans__van", "cans__place")
    return tuple(_ahead(sheet, wanted.get(sheet.pk, [])) for sheet in rows)


def _row(new: Mapping[str, Any]) -> dict[str, Any]:
    sheet = {"sheet": Sheet.objects.get(key=new["sheet"])} if "sheet" in new else {}
    plain = {name: value for name, value in new.items() if name != "kept_in"}
    where = kept_in.row(new["kept_in"]) if "kept_in" in new else {}
    return plain | sheet | where


def _words(can: Can) -> str:
    words = Words(system=entries.system())
    return f"{can.count} x {words.volume(can.left_ml)} of {can.sheet.name}"


@dataclass(frozen=True, kw_only=True)
class _Want:
    job: Job
    on: date | None
    ml: float


def _wanted() -> dict[int, list[_Want]]:
    """What open stages still want of each product, less what coats already laid took: one way of each job, on its posted day or else the promised one."""
    found: dict[int, list[_Want]] = {}
    open_states = (Job.State.AGREED, Job.State.IN_HAND)
    jobs = Job.objects.filter(state__in=open_states).select_related("boat__place")
    for job in jobs.prefetch_related("stages__visit", "stages__laid"):
        for stage in _one_way(job):
            if stage.sheet_id and (still := to_lay.ml(stage)):
                want = _Want(job=job, on=_on(stage, job), ml=still)
                found.setdefault(stage.sheet_id, []).append(want)
    return found


def _one_way(job: Job) -> Iterator[Stage]:
    stages = [one for one in job.stages.all() if one.state != Stage.State.DONE]
    posted = {one.variant for one in stages if one.variant and hasattr(one, "visit")}
    ways = {one.variant for one in stages if one.variant}
    plain = "as-she-lies" if "as-she-lies" in ways else min(ways, default="")
    way = min(posted, default=plain)
    return (one for one in stages if not one.extra and one.variant in ("", way))


def _on(stage: Stage, job: Job) -> date | None:
    zone = ZoneInfo(job.boat.place.time_zone)
    if hasattr(stage, "visit"):
        return stage.visit.start.astimezone(zone).date()
    return job.promised_by.astimezone(zone).date() if job.promised_by else None


def _ahead(sheet: Sheet, wants: list[_Want]) -> Ahead:
    words, zone = (
        Words(system=entries.system()),
        ZoneInfo(Outfit.objects.get().time_zone),
    )
    today = clock.now().astimezone(zone).date()
    reserve = 1 + rates.coverage().carry_reserve
    usable = usable_ml(sheet, today)
    whole = sum(can.left_ml * can.count for can in sheet.cans.all())
    needed = sum(want.ml for want in wants) * reserve
    on, lacks = _short(sheet, wants, today, reserve)
    by = order_by(datetime.combine(on, _MORNING, tzinfo=zone), zone) if on else None
    return Ahead(
        sheet=sheet,
        rows=tuple(
            (
                can,
                words.volume(can.left_ml),
                keeps(can, sheet, today),
                kept_in.said(can),
            )
            for can in sheet.cans.all()
        ),
        usable=words.volume(usable),
        past=words.volume(whole - usable) if whole - usable > 0.05 else "",
        needed=words.volume(needed) if wants else "",
        short=words.volume(lacks) if lacks else "",
        packs=film.packs_to_buy(lacks, 0, sheet.pack_ml) if lacks else 0,
        short_on=on,
        order_by=by,
        too_late=by is not None and by < clock.now(),
        undated=tuple(str(w.job) for w in wants if w.on is None),
    )


def order_by(needed: datetime, zone: ZoneInfo) -> datetime:
    """The last moment to order what is needed at a moment, by the outfit's supplier."""
    terms = rates.supply()
    hour, minute = divmod(int(terms.cutoff_clock), 60)
    return stock.order_by(
        needed,
        zone,
        lead_days=terms.lead_days,
        spare_hours=terms.spare_hours,
        cutoff=time(hour, minute),
    )


def _short(
    sheet: Sheet, wants: list[_Want], today: date, reserve: float
) -> tuple[date | None, float]:
    """The first day on which the cans do not do, and how much is lacking in all; work without a day comes last."""
    spent, first, lacks = 0.0, None, 0.0
    for want in sorted(wants, key=lambda one: one.on or date.max):
        spent += want.ml * reserve
        day = max(want.on or today, today)
        if spent > usable_ml(sheet, day) + 0.05:
            lacks = max(lacks, spent - usable_ml(sheet, day))
            first = first or want.on
    return (max(first, today) if first else None), lacks
