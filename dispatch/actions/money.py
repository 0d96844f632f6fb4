"""A job's money: what was agreed, extras, what came in, what it really cost, what is owed."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from django.db import transaction
from django.db.models import Q

from dispatch.actions import access, history, show_estimate, took
from dispatch.actions.entries import DOLLARS, Entry
from dispatch.actions.errors import Refused
from dispatch.records.models import (
    Account,
    Extra,
    Invoice,
    Job,
    Payment,
    Stage,
)

_MOST = 100_000_000
_ENDED = (Job.State.HANDED_BACK, Job.State.CALLED_OFF)


@dataclass(frozen=True, kw_only=True)
class Cost:
    """What a job really cost so far, in cents; ``untimed`` stages count as planned, ``unmeasured`` product as estimated.

    ``uncounted`` product is in no sum: it was neither measured nor estimated, or what a can costs is not entered.
    """

    wages: int
    product: int
    untimed: tuple[str, ...]
    unmeasured: tuple[str, ...]
    uncounted: tuple[str, ...] = ()

    @property
    def cents(self) -> int:
        """Wages and product; vans and moves are not in it."""
        return self.wages + self.product


@dataclass(frozen=True, kw_only=True)
class Ledger:
    """How a job stands: agreed price, extras, tax of its invoices, what was paid, what it cost.

    ``fell_away`` is the price of a job that was called off with no invoice standing: nobody owes it any more.
    """

    job: Job
    agreed: int
    fell_away: int
    extras: int
    tax: int
    paid: int

    @property
    def total(self) -> int:
        """What the customer is to pay in all."""
        return self.agreed + self.extras + self.tax

    @property
    def owed(self) -> int:
        """What is still to come; less than nought is owed back."""
        return self.total - self.paid

    @property
    def back(self) -> int:
        """What is to be paid back."""
        return max(0, -self.owed)

    @cached_property
    def cost(self) -> Cost:
        """What it cost so far; reckoned once it is asked for, so that a list of ledgers need not."""
        return cost(self.job)

    @property
    def left(self) -> int:
        """What stays of price and extras after wages and product."""
        return self.agreed + self.extras - self.cost.cents


def extra_entries() -> tuple[Entry, ...]:
    """What is entered of an extra."""
    return (
        Entry(name="words", label="For what", longest=120),
        Entry(
            name="cents",
            label="Costs",
            kind="whole",
            unit=DOLLARS,
            least=-_MOST,
            most=_MOST,
            hint="less than 0 takes off",
        ),
        Entry(name="on", label="Day", kind="date"),
    )


def payment_entries() -> tuple[Entry, ...]:
    """What is entered of a payment."""
    kinds = tuple((str(k), str(v)) for k, v in Payment.Kind.choices)
    return (
        Entry(name="kind", label="As", kind="pick", choices=kinds),
        Entry(
            name="cents",
            label="Amount",
            kind="whole",
            unit=DOLLARS,
            least=1,
            most=_MOST,
        ),
        Entry(name="on", label="Day", kind="date"),
        Entry(name="how", label="How", longest=60, may_lack=True, hint="check, card"),
    )


@transaction.atomic
def add_extra(job: Job, new: Mapping[str, Any], *, by: Account) -> Extra:
    """Put down something a job costs beside its price.

    Raises:
        Stranger: the account is not the owner's.
        Refused: it costs nothing.
    """
    access.owner(by)
    if not new["cents"]:
        raise Refused("An extra costs something, or takes something off.")
    row = Extra.objects.create(job=job, **new)
    told = f"{job}: extra {row.words}, {said(row.cents)}."
    history.write("add-extra", f"job {job.key}", told, by=by)
    return row


@transaction.atomic
def add_payment(job: Job, new: Mapping[str, Any], *, by: Account) -> Payment:
    """Put down money that came in, or was paid back.

    Raises:
        Stranger: the account is not the owner's.
        Refused: more would be paid back than came in.
    """
    access.owner(by)
    Job.objects.select_for_update().get(pk=job.pk)
    back = new["kind"] == Payment.Kind.BACK
    cents = -new["cents"] if back else new["cents"]
    if back and paid(job) + cents < 0:
        raise Refused(
            f"Only {said(paid(job))} came in for this job; more cannot be paid back."
        )
    row = Payment.objects.create(job=job, **{**new, "cents": cents})
    told = f"{job}: {row.get_kind_display().lower()} {said(abs(cents))}{f' by {row.how}' if row.how else ''}."
    history.write("add-payment", f"job {job.key}", told, by=by)
    return row


@transaction.atomic
def remove(row: Extra | Payment, *, by: Account, why: str) -> None:
    """Take out an extra or a payment that was put down wrongly.

    Raises:
        Stranger: the account is not the owner's.
        Refused: nobody said why.
    """
    access.owner(by)
    if not why.strip():
        raise Refused("Say why: money that was put down is not taken out without.")
    what = row.words if isinstance(row, Extra) else row.get_kind_display().lower()
    told = (
        f"{row.job}: took out {what}, {said(abs(row.cents))} of {row.on.isoformat()}."
    )
    history.write("remove-money", f"job {row.job.key}", told, by=by, why=why)
    row.delete()


def ledger(job: Job) -> Ledger:
    """How a job stands."""
    standing = [row for row in job.invoices.all() if not row.void]
    off = job.state == Job.State.CALLED_OFF and not standing
    return Ledger(
        job=job,
        agreed=0 if off else job.price_cents,
        fell_away=job.price_cents if off else 0,
        extras=sum(row.cents for row in job.extras.all()),
        tax=sum(row.tax_cents for row in standing),
        paid=paid(job),
    )


def paid(job: Job) -> int:
    """What came in for a job, less what was paid back."""
    return sum(row.cents for row in job.payments.all())


def owed() -> tuple[Ledger, ...]:
    """Jobs handed back, called off or invoiced with something still to come or to be paid back, the oldest first."""
    invoiced = Invoice.objects.filter(void=False).values("job")
    rows = (
        Job.objects.filter(Q(state__in=_ENDED) | Q(pk__in=invoiced))
        .select_related("boat__customer", "boat__place", "kind", "sheet")
        .prefetch_related("extras", "invoices", "payments")
        .order_by("handed_back_at", "key")
    )
    found = (ledger(job) for job in rows)
    return tuple(one for one in found if one.owed)


def cost(job: Job) -> Cost:
    """What the done stages of a job really cost."""
    done = job.stages.filter(state=Stage.State.DONE).select_related(
        "visit__van_day", "sheet"
    )
    wages, product = 0.0, 0.0
    untimed: list[str] = []
    unmeasured: list[str] = []
    uncounted: list[str] = []
    for stage in done:
        minutes, hourly = took.clock_minutes(stage), _team_cents(stage)
        if minutes is None or hourly is None:
            untimed.append(stage.name)
            wages += took.labour(stage) / 60 * show_estimate.cents_per_hour()
        else:
            wages += minutes / 60 * hourly
        used = [row.used_ml for row in stage.laid.all()]
        millilitres = sum(ml for ml in used if ml is not None)
        if stage.sheet and (not used or None in used):
            (unmeasured if stage.product_ml else uncounted).append(stage.name)
            millilitres = stage.product_ml
        if stage.sheet and not stage.sheet.pack_cents:
            uncounted.append(stage.name)
        if stage.sheet:
            product += millilitres / stage.sheet.pack_ml * stage.sheet.pack_cents
    return Cost(
        wages=round(wages),
        product=round(product),
        untimed=tuple(untimed),
        unmeasured=tuple(unmeasured),
        uncounted=tuple(dict.fromkeys(uncounted)),
    )


def said(cents: int) -> str:
    """Whole cents as dollars."""
    sign = "-" if cents < 0 else ""
    return f"{sign}${abs(cents) / 100:,.2f}"


def _team_cents(stage: Stage) -> int | None:
    """What an hour of the team that did a stage costs; None where the team is not known."""
    visit = getattr(stage, "visit", None)
    team = list(visit.van_day.team.all()) if visit else []
    return sum(person.cents_per_hour for person in team) if team else None
