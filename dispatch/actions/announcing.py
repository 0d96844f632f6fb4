"""What customers are told when a week is posted, when a coat is laid and when a job ends."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from dispatch.actions import boat_stands, boat_strip, clock, history, rates
from dispatch.notices import outbox, quiet, words
from dispatch.notices.reasons import About, Arrival, FilmWet, Pickup, Reason
from dispatch.records.models import (
    Customer,
    Hold,
    Job,
    Notice,
    Outfit,
    Stage,
    Visit,
    WeekPlan,
)
from dispatch.trade.spans import Span

_UNKNOWN = "unknown"
_TOO_SOON = timedelta(hours=1)
Occasion = Arrival | Pickup | FilmWet


def week(plan: WeekPlan) -> None:
    """Put an arrival notice in the outbox for each boat and day that is visited; drop those overtaken."""
    firsts: dict[tuple[int, str], list[Visit]] = {}
    rows = Visit.objects.filter(van_day__plan=plan).select_related(
        "stage__job__boat__place", "van_day"
    )
    for visit in rows.order_by("start"):
        firsts.setdefault((visit.stage.job_id, str(visit.van_day.on)), []).append(visit)
    kept: dict[int, set[str]] = {}
    for (job_pk, on), visits in firsts.items():
        kept.setdefault(job_pk, set()).add(f"{visits[0].stage.job.key} visit {on}")
        _arrival(visits, f"visit {on}")
    for job in Job.objects.filter(
        notices__reason="arrival", notices__state="waiting"
    ).distinct():
        outbox.drop("arrival", job, keep=kept.get(job.pk, set()))


def finished(job: Job) -> None:
    """Put the pickup notice of a job that has ended in the outbox: from when its last film has set.

    While that is not known nobody is told to come; the history says whom to call.
    """
    now = clock.now()
    wet = [hold for stage in job.stages.all() if (hold := boat_strip.wet(stage, now))]
    ends = [hold.latest for hold in wet if hold.latest]
    if len(ends) < len(wet):
        _by_hand(
            job,
            f"{job.boat.name} is finished, but when its film is hard is not known.",
            "Tell {customer} by hand when to come.",
        )
        return
    off = (
        bool(job.boat.registration)
        and job.stages.filter(key__startswith="letters").exclude(state="done").exists()
    )
    ready = Pickup(about=_about(job), ready_at=max([now, *ends]), numbers_off=off)
    _put(job, ready, "pickup", now)


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
        about=_about(stage.job), panels=(boat_stands.part(stage),), cover=_sets(hold)
    )
    due_at = allowed(occasion.reason, stage.job.boat.customer, clock.now())
    if occasion.cover and occasion.cover.end <= due_at:
        return
    if not _put(stage.job, occasion, f"film {stage.key}", due_at):
        _by_hand(
            stage.job,
            words.write(occasion).text,
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
    """Whether nobody was told, the message has not gone out, or it told an end that is not known or more than an hour too soon."""
    known = Notice.objects.filter(job=job, reason=reason, fact=f"{job.key} {fact}")
    last = known.exclude(state=Notice.State.DROPPED).order_by("-id").first()
    if last is None:
        return bool(_channels(job.boat.customer))
    if last.state == Notice.State.WAITING:
        return True
    told = outbox.version_of(last)
    if told.startswith(_UNKNOWN) or sets is None:
        return told.startswith(_UNKNOWN) != (sets is None)
    return sets.end >= datetime.fromisoformat(told) + _TOO_SOON


def _by_hand(job: Job, said: str, ask: str) -> None:
    customer = job.boat.customer.name
    history.write(
        "call-by-hand",
        f"job {job.key}",
        f"{said} {ask.format(customer=customer)}",
        actor="sky",
    )


def _sets(hold: Hold) -> Span | None:
    """The range in which film sets; None where either end of it is not known."""
    if hold.earliest is None or hold.latest is None:
        return None
    return Span(hold.earliest, hold.latest)


def _arrival(visits: list[Visit], fact: str) -> None:
    first, job, terms = visits[0], visits[0].stage.job, rates.customers()
    occasion = Arrival(
        about=_about(job),
        arrives=Span(
            first.start - timedelta(minutes=terms.before_minutes),
            first.start + timedelta(minutes=terms.after_minutes),
        ),
        doing=tuple(visit.stage.name for visit in visits),
    )
    zone = ZoneInfo(job.boat.place.time_zone)
    eve = first.start.astimezone(zone).date() - timedelta(days=1)
    _put(
        job,
        occasion,
        fact,
        datetime.combine(eve, clock.of_day(terms.eve_clock), tzinfo=zone),
    )


def _about(job: Job) -> About:
    return About(
        outfit=Outfit.objects.get().name,
        boat=job.boat.name,
        place=job.boat.place.name,
        zone=ZoneInfo(job.boat.place.time_zone),
    )


def allowed(reason: str, customer: Customer, at: datetime) -> datetime:
    """The first moment from now on at which a customer may be written to for a reason."""
    zone = ZoneInfo(customer.time_zone)
    terms = rates.customers()
    opens, closes = terms.from_clock, terms.until_clock
    if reason == Reason.FILM_WET:
        opens, closes = terms.wet_from_clock, terms.wet_until_clock
    hours = quiet.Hours(opens=clock.of_day(opens), closes=clock.of_day(closes))
    return quiet.next_allowed(Reason(reason), max(at, clock.now()), zone, hours)


def _put(job: Job, occasion: Occasion, fact: str, at: datetime) -> int:
    """One message a channel the customer agreed to, at an hour the customer may be written to; return how many."""
    customer, wording = job.boat.customer, words.write(occasion)
    due_at = allowed(occasion.reason, customer, at)
    bodies = {"text": wording.text, "email": wording.letter}
    channels = _channels(customer)
    for channel, to in channels.items():
        told = outbox.Fact(
            reason=occasion.reason,
            fact=f"{job.key} {fact}",
            version=_version(occasion),
            customer=customer,
            job=job,
            subject=wording.subject,
            body=bodies[channel],
            due_at=due_at,
            span=occasion.arrives if isinstance(occasion, Arrival) else None,
        )
        outbox.put(told, channel=channel, to=to)
    return len(channels)


def _channels(customer: Customer) -> dict[str, str]:
    """The channels a customer agreed to, with the address of each."""
    found = {}
    if customer.text_consent and customer.phone and customer.text_stopped_at is None:
        found["text"] = customer.phone
    if customer.email_consent and customer.email:
        found["email"] = customer.email
    return found


def _version(occasion: Occasion) -> str:
    """What makes one telling of a fact differ from the next: its time."""
    if isinstance(occasion, FilmWet):
        # What is not known may be so twice, with a known time between: each is a telling of its own.
        unknown = f"{_UNKNOWN} {clock.now().isoformat()}"
        return occasion.cover.end.isoformat() if occasion.cover else unknown
    told = (
        occasion.arrives.start if isinstance(occasion, Arrival) else occasion.ready_at
    )
    return told.isoformat()
