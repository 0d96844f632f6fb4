"""What customers are told: put in the outbox by each channel they agreed to; when a coat is laid and when a job ends."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from dispatch.actions import boat_stands, boat_strip, calling, clock, rates
from dispatch.notices import outbox, quiet, words
from dispatch.notices.reasons import (
    About,
    Agreed,
    Ahead,
    Arrival,
    Came,
    FilmWet,
    ForCustomers,
    Morning,
    Moved,
    Pickup,
    Reason,
    Yearly,
)
from dispatch.records.models import (
    Customer,
    Hold,
    Job,
    Notice,
    Outfit,
    Person,
    Stage,
    Visit,
    WeekPlan,
)
from dispatch.trade.spans import Span

_UNKNOWN = "unknown"
_TOO_SOON = timedelta(minutes=30)
# How the version begins of a message that a visit is off.
OFF = "off"
OFF_BY_APPOINTMENT = f"{OFF} slot"


@dataclass(frozen=True, kw_only=True)
class Told:
    """The visit a message is about, as a calendar knows it; ``off`` says that it will not be."""

    span: Span
    off: bool = False


def by_day(plan: WeekPlan) -> dict[tuple[int, str], list[Visit]]:
    """A plan's visits in order, by job and day."""
    found: dict[tuple[int, str], list[Visit]] = {}
    rows = Visit.objects.filter(van_day__plan=plan).select_related(
        "stage__job__boat__place", "stage__job__boat__customer", "van_day"
    )
    for visit in rows.order_by("start"):
        found.setdefault((visit.stage.job_id, str(visit.van_day.on)), []).append(visit)
    return found


def finished(job: Job) -> None:
    """Put the pickup notice of a job that has ended in the outbox: from when its last film has set.

    While that is not known nobody is told to come; the history says whom to call.
    """
    now = clock.now()
    wet = [hold for stage in job.stages.all() if (hold := boat_strip.wet(stage, now))]
    ends = [hold.latest for hold in wet if hold.latest]
    if len(ends) < len(wet):
        calling.ask(
            job,
            f"{job.boat.name} is finished, but when its film is hard is not known.",
            "Tell {customer} by hand when to come.",
        )
        return
    off = (
        bool(job.boat.registration)
        and job.stages.filter(key__startswith="letters").exclude(state="done").exists()
    )
    ready = Pickup(
        about=about(job),
        ready_at=max([now, *ends]),
        numbers_off=off,
        care_days=round(rates.customers().care_days) if job.kind.sprays else 0,
        care=Outfit.objects.get().care,
    )
    put(job, ready, "pickup", now)


def film_wet(laid: Stage) -> None:
    """Put the notice not to touch wet film in the outbox, with the range in which it sets.

    Film that will have set before the customer may be written to is not told of. Where nobody
    agreed to be written to, the history says whom to call.
    """
    stage = Stage.objects.select_related("job__boat__place").get(pk=laid.pk)
    hold = boat_strip.wet(stage, clock.now())
    if hold is None:
        return
    occasion = FilmWet(
        about=about(stage.job), panels=(boat_stands.part(stage),), cover=_sets(hold)
    )
    due_at = allowed(occasion.reason, stage.job.boat.customer, clock.now())
    if occasion.cover and occasion.cover.end <= due_at:
        return
    if not put(stage.job, occasion, f"film {stage.key}", due_at):
        calling.ask(
            stage.job,
            words.by_hand(occasion),
            "{customer} has agreed to no text and no e-mail: call by hand.",
        )


def film_again(laid: Stage) -> None:
    """Tell again of film whose time has changed, where that matters to who was told; and of a finished boat that carries it."""
    stage = Stage.objects.select_related("job__boat__place").get(pk=laid.pk)
    hold = boat_strip.wet(stage, clock.now())
    if hold is None:
        return
    if _told_wrong(stage.job, FilmWet.reason, f"film {stage.key}", _sets(hold)):
        film_wet(stage)
    if stage.job.handed_back_at is not None and hold.latest is not None:
        ready = Span(hold.start, hold.latest)
        if _told_wrong(stage.job, Pickup.reason, "pickup", ready):
            finished(stage.job)


def _told_wrong(job: Job, reason: str, fact: str, sets: Span | None) -> bool:
    """Whether nobody was told, the message has not gone out, or it told an end that is not known or half an hour too soon or more."""
    known = Notice.objects.filter(job=job, reason=reason, fact=f"{job.key} {fact}")
    last = known.exclude(state=Notice.State.DROPPED).order_by("-id").first()
    if last is None:
        return bool(addresses(job.boat.customer))
    if last.state == Notice.State.WAITING:
        return True
    told = outbox.version_of(last)
    if told.startswith(_UNKNOWN) or sets is None:
        return told.startswith(_UNKNOWN) != (sets is None)
    return sets.end >= datetime.fromisoformat(told) + _TOO_SOON


def _sets(hold: Hold) -> Span | None:
    """The range in which film sets; None where either end of it is not known."""
    if hold.earliest is None or hold.latest is None:
        return None
    return Span(hold.earliest, hold.latest)


def arrives(visit: Visit) -> Span:
    """The span in which a customer is told that the crew comes."""
    terms = rates.customers()
    return Span(
        visit.start - timedelta(minutes=terms.before_minutes),
        visit.start + timedelta(minutes=terms.after_minutes),
    )


def arrival(visits: Sequence[Visit], *, doubt: str = "") -> Arrival:
    """What is told of a day's visits to a boat."""
    return Arrival(
        about=about(visits[0].stage.job),
        arrives=arrives(visits[0]),
        doing=tuple(visit.stage.name for visit in visits),
        doubt=doubt,
    )


def about(job: Job) -> About:
    """Whose message it is, and about which boat."""
    outfit = Outfit.objects.get()
    return About(
        outfit=outfit.name,
        phone=outfit.phone,
        boat=job.boat.name,
        place=job.boat.place.name,
        zone=ZoneInfo(job.boat.place.time_zone),
    )


def allowed(reason: str, whom: Customer | Person, at: datetime) -> datetime:
    """The first moment from now on at which somebody may be written to for a reason.

    The crew is told of a cover at any hour: film is lost before the morning, and they agreed to just that.
    """
    if isinstance(whom, Person):
        return max(at, clock.now())
    zone = ZoneInfo(whom.time_zone)
    terms = rates.customers()
    opens, closes = terms.from_clock, terms.until_clock
    if reason == Reason.FILM_WET:
        opens, closes = terms.wet_from_clock, terms.wet_until_clock
    hours = quiet.Hours(opens=clock.of_day(opens), closes=clock.of_day(closes))
    return quiet.next_allowed(Reason(reason), max(at, clock.now()), zone, hours)


def put(
    job: Job,
    occasion: ForCustomers,
    fact: str,
    at: datetime,
    *,
    short: bool = False,
    told: Told | None = None,
) -> int:
    """One message a channel the customer agreed to, at an hour the customer may be written to; return how many.

    A ``short`` one goes by text alone, or by e-mail where no text may go. ``told`` is the visit it is about.
    """
    customer, wording = job.boat.customer, words.write(occasion)
    due_at = allowed(occasion.reason, customer, at)
    bodies = {"text": wording.text, "email": wording.letter}
    channels = list(addresses(customer).items())
    for channel, to in channels[:1] if short else channels:
        fresh = outbox.Fact(
            reason=occasion.reason,
            fact=f"{job.key} {fact}",
            version=_version(occasion, told),
            to_whom=customer,
            job=job,
            subject=wording.subject,
            body=bodies[channel],
            due_at=due_at,
            span=told.span if told else _span(occasion),
        )
        outbox.put(fresh, channel=channel, to=to)
    return len(channels)


def _span(occasion: ForCustomers) -> Span | None:
    """The visit that a message is about, where it is about one."""
    if isinstance(occasion, Arrival | Ahead | Morning):
        return occasion.arrives
    return None


def reachable(customer: Customer) -> bool:
    """Whether a customer agreed to be written to by any channel."""
    return bool(addresses(customer))


def addresses(whom: Customer | Person) -> dict[str, str]:
    """The channels that a customer or a person of the crew agreed to, with the address of each."""
    found = {}
    if whom.text_consent and whom.phone and whom.text_stopped_at is None:
        found["text"] = whom.phone
    if whom.email_consent and whom.email:
        found["email"] = whom.email
    return found


def _version(occasion: ForCustomers, told: Told | None) -> str:
    """What makes one telling of a fact differ from the next: its time."""
    if isinstance(occasion, FilmWet):
        # What is not known may be so twice, with a known time between: each is a telling of its own.
        unknown = f"{_UNKNOWN} {clock.now().isoformat()}"
        return occasion.cover.end.isoformat() if occasion.cover else unknown
    if isinstance(occasion, Moved):
        return _moved_to(occasion, off=told is not None and told.off)
    if isinstance(occasion, Yearly | Came):
        return _day_of(occasion).isoformat()
    if isinstance(occasion, Agreed):
        return occasion.done[1].isoformat() if occasion.done else "open"
    told_of = (
        occasion.ready_at if isinstance(occasion, Pickup) else occasion.arrives.start
    )
    return told_of.isoformat()


def _day_of(occasion: Yearly | Came) -> date:
    if isinstance(occasion, Came):
        return occasion.waited.start.date()
    return occasion.finished_on


def _moved_to(occasion: Moved, *, off: bool) -> str:
    if occasion.appointment:
        return f"{OFF_BY_APPOINTMENT} {occasion.appointment.isoformat()}"
    when = occasion.arrives.start.isoformat() if occasion.arrives else "open"
    return f"{OFF} {when}" if off else when
