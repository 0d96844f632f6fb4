"""What a job is to cost as plugins tell it: asked in a task, stored; the catalogue's price stands where none told."""

import hashlib
from dataclasses import dataclass, replace
from datetime import date, datetime
from zoneinfo import ZoneInfo

from dispatch.actions import clock, due, plugin_words, plugins, prices
from dispatch.actions.prices import Line, Price
from dispatch.hooks.values import PriceAsk, PriceLine
from dispatch.records.models import Job, ToldPrice

VERB, ALL_VERB = "ask-price", "ask-prices"
_PRICED = (Job.State.ASKED, Job.State.AGREED, Job.State.IN_HAND)


@dataclass(frozen=True, kw_only=True)
class Listed:
    """The price before anything is agreed: of a plugin, named in words, or of the catalogue where ``by`` is empty.

    ``told_at`` is when the plugin told it; ``why_not`` says why it is the catalogue's, or an older one, where plugins are on.
    """

    price: Price
    by: str = ""
    by_key: str = ""
    told_at: datetime | None = None
    why_not: str = ""


def who() -> tuple[str, ...]:
    """The plugins that are on and tell prices, by key."""
    return tuple(state.name for state in plugins.enabled("price"))


def later(job: Job) -> None:
    """Leave it to the worker to have a job priced; nothing while no plugin is on that prices."""
    if who():
        due.put(VERB, job.key)


def all_later() -> None:
    """Leave it to the worker to have every open job priced whose price is not known as she stands in the book."""
    if who():
        due.put(ALL_VERB, "all")


def ask_anew(plugin: str) -> None:
    """Let what a plugin told no longer hold, as it may tell otherwise now, and have every open job priced."""
    ToldPrice.objects.filter(plugin__in=(plugin, "")).update(asked="")
    ToldPrice.objects.exclude(fault="").update(fault="")
    all_later()


def ask_all() -> None:
    """Leave each open job that no plugin was asked about as it stands now, or in vain, to the worker, one by one."""
    jobs = Job.objects.filter(state__in=_PRICED)
    for job in jobs.select_related("boat__place", "kind", "told_price"):
        row = getattr(job, "told_price", None)
        if row is None or row.fault or row.asked != _digest(_ask(job)):
            due.put(VERB, job.key)


def ask(key: str) -> None:
    """Ask each enabled plugin in turn for a job's price, and store what the first tells; holds no transaction meanwhile.

    Where one failed and none tells, what was told of the same before stands, and the fault is kept beside it.
    """
    job = Job.objects.select_related("boat__place", "kind").filter(key=key).first()
    states = list(plugins.enabled("price"))
    if job is None or not states:
        return
    wanted, faults = _ask(job), []
    for state in states:
        outcome = plugins.ask(state, "price", wanted)
        if not outcome.fault and outcome.answer.lines:
            _store(job, state.name, wanted, outcome.answer.lines)
            return
        faults += [outcome.fault] if outcome.fault else []
    if faults:
        ToldPrice.objects.update_or_create(
            job=job, defaults={"fault": " ".join(faults)}
        )
    else:
        _store(job, "", wanted, ())


def of(job: Job) -> Listed:
    """The price of a job as it stands in the book."""
    names = who()
    if not names:
        return Listed(price=prices.of(job))
    row = ToldPrice.objects.filter(job=job).first()
    if row is None or not _holds(row, names, job):
        return Listed(price=prices.of(job), why_not=_why_not(row, names, job))
    lines = tuple(Line(words=one["words"], cents=one["cents"]) for one in row.lines)
    return Listed(
        price=Price(lines=lines),
        by=plugin_words.spaced(row.plugin),
        by_key=row.plugin,
        told_at=row.told_at,
        why_not=row.fault,
    )


def _holds(row: ToldPrice, names: tuple[str, ...], job: Job) -> bool:
    """Whether a price still stands: its plugin is on, and the job is as it was when it was asked about."""
    return bool(row.lines) and row.plugin in names and row.asked == _digest(_ask(job))


def _why_not(row: ToldPrice | None, names: tuple[str, ...], job: Job) -> str:
    if row is not None and row.fault:
        return row.fault
    if row is not None and not row.plugin and row.asked == _digest(_ask(job)):
        return ""
    who = " and ".join(plugin_words.spaced(name) for name in names)
    return f"{who} {'has' if len(names) == 1 else 'have'} not told a price for the job as it stands now."


def _store(
    job: Job, plugin: str, asked: PriceAsk, lines: tuple[PriceLine, ...]
) -> None:
    ToldPrice.objects.update_or_create(
        job=job,
        defaults={
            "plugin": plugin,
            "lines": [{"words": one.words, "cents": one.cents} for one in lines],
            "asked": _digest(asked),
            "told_at": clock.now(),
            "fault": "",
        },
    )


def _ask(job: Job) -> PriceAsk:
    zone = ZoneInfo(job.boat.place.time_zone)
    return PriceAsk(
        job_key=job.key,
        kind=job.kind.key,
        length_m=job.boat.length_m,
        shape=job.boat.shape,
        grade=job.grade,
        on=clock.now().astimezone(zone).date(),
        lines=tuple(
            PriceLine(words=line.words, cents=line.cents)
            for line in prices.of(job).lines
        ),
        place_key=job.boat.place.key,
        dark=job.boat.dark,
        repairs=dict(job.repairs),
        promised=_promised(job, zone),
        returning=prices.returning(job),
        drive_km=prices.drive_km(job.boat),
    )


def _promised(job: Job, zone: ZoneInfo) -> tuple[date, date] | None:
    if job.promised_by is None:
        return None
    last = job.promised_by.astimezone(zone).date()
    first = (job.promised_from or job.promised_by).astimezone(zone).date()
    return min(first, last), last


def _digest(asked: PriceAsk) -> str:
    """What a price was asked about, whatever the day it was asked on."""
    said = repr(
        replace(asked, on=date.min, repairs=dict(sorted(asked.repairs.items())))
    )
    return hashlib.sha256(said.encode()).hexdigest()
