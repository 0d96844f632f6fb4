"""Visits that were told and will not be: told of in one go, or called about by hand; by text all of a posting in one."""

from collections.abc import Sequence
from datetime import datetime

from django.db.models import QuerySet

from dispatch.actions import announcing, calling, clock, slips
from dispatch.actions.announcing import Told
from dispatch.actions.board_words import names, of_day
from dispatch.notices import outbox, words
from dispatch.notices.reasons import Moved, Reason
from dispatch.records.models import Bump, Job, Notice, Visit, Week, WeekPlan
from dispatch.trade.spans import Span


def fallen_out(plan: WeekPlan) -> None:
    """Tell of each visit that was told and stands no more: when the crew comes instead, where that is settled."""
    here = slips.days(plan.week)
    told_of = Notice.objects.filter(
        reason=Reason.ARRIVAL, state__in=slips.TOLD, ends_at__gt=clock.now()
    ).select_related("job__boat__place", "job__boat__customer")
    gone = {
        (notice.job, notice.fact): notice
        for notice in told_of.order_by("pk")
        if notice.fact.rpartition(" ")[2] in here and not slips.stands(notice)
    }
    by_job: dict[Job, list[Notice]] = {}
    for (job, _), notice in gone.items():
        if job is not None:
            by_job.setdefault(job, []).append(notice)
    for job, notices in by_job.items():
        _gives_way(job, notices)


def all_off(job: Job) -> None:
    """Tell of each visit ahead that was told and stands no more, of a job that left the plan."""
    for notice in slips.still_told(job):
        if not slips.stands(notice):
            tell(job, notice)


def _gives_way(job: Job, gone: Sequence[Notice]) -> None:
    """Tell of visits that fell out together; who gives way a second time is called by hand, never written to."""
    known = set(_told_off(job).values_list("fact", flat=True))
    fresh = [notice for notice in gone if notice.fact not in known]
    again = _gave_way(job, fresh) if fresh else 0
    if again:
        times = "once" if again == 1 else f"{again} times"
        calling.ask(
            job,
            f"{_those(job, fresh)} off, and she gave way before {times} this season.",
            "Call {customer} by hand: no message was written.",
            again=False,
        )
    for notice in gone:
        if notice.fact in known or not again:
            tell(job, notice)


def _those(job: Job, gone: Sequence[Notice]) -> str:
    """The visits that are off, as a sentence begins."""
    days = names([of_day(slips.day(notice.fact)) for notice in gone])
    of_them = f"to {job.boat.name} of {days} that"
    if len(gone) == 1:
        return f"The visit {of_them} was told is"
    return f"The visits {of_them} were told are"


def _told_off(job: Job) -> QuerySet[Notice]:
    """The messages that visits of a job are off: told, or to be."""
    return Notice.objects.filter(
        job=job, reason=Reason.MOVED, version__startswith=announcing.OFF
    ).exclude(state=Notice.State.DROPPED)


def _gave_way(job: Job, fresh: Sequence[Notice]) -> int:
    """How often a job whose visits fall out gave way this season before: by hand in other weeks or as it was taken over, and each other visit told that is off.

    That she is left out of this very week by hand is what is to be told, and not from before. A yard that moves an
    appointment makes nobody give way.
    """
    if slips.by_appointment(job, [_short(job, notice) for notice in fresh]):
        return 0
    day = slips.day(fresh[0].fact)
    here = Week.objects.filter(starts_on__lte=day).order_by("-starts_on").first()
    now = Bump.objects.filter(job=job, week=here).count()
    offs = _told_off(job).exclude(version__startswith=announcing.OFF_BY_APPOINTMENT)
    return max(0, job.bumped - now) + offs.values("fact").distinct().count()


def _short(job: Job, notice: Notice) -> str:
    return notice.fact.removeprefix(f"{job.key} ")


def tell(job: Job, notice: Notice) -> None:
    """Tell that a visit is off."""
    if notice.begins_at is None or notice.ends_at is None:
        return
    before = Told(span=Span(notice.begins_at, notice.ends_at), off=True)
    fact = _short(job, notice)
    occasion = _together(job, [fact])
    if not announcing.put(job, occasion, fact, clock.now(), told=before):
        calling.ask(
            job,
            words.by_hand(occasion),
            "{customer} has agreed to no text and no e-mail: call by hand.",
            again=False,
        )


def beside(notice: Notice, now: datetime, wall: datetime) -> list[Notice]:
    """Claim what else is due to tell the same customer by text that visits to the same boat are off; all are worded as one.

    A letter takes a visit out of a calendar, which is done for each by itself.
    """
    if notice.channel != "text" or not slips.is_off(notice) or notice.job is None:
        return []
    rows = Notice.objects.filter(
        job=notice.job,
        customer=notice.customer,
        to=notice.to,
        channel=notice.channel,
        reason=Reason.MOVED,
        version__startswith=announcing.OFF,
        ends_at__gt=now,
    )
    found = list(outbox.claim_of(rows.exclude(pk=notice.pk), now, wall))
    if found:
        all_of_them = [notice, *found]
        facts = [_short(notice.job, one) for one in all_of_them]
        wording = words.write(_together(notice.job, facts))
        notice.subject, notice.body = wording.subject, wording.text
        Notice.objects.filter(pk__in=[one.pk for one in all_of_them]).update(
            subject=notice.subject, body=notice.body
        )
    return found


def _together(job: Job, facts: Sequence[str]) -> Moved:
    """What is told of visits that are off: their days, when the crew comes instead, and why."""
    later = _standing(job).filter(start__gt=clock.now()).order_by("start").first()
    return Moved(
        about=announcing.about(job),
        days=tuple(sorted(slips.day(fact) for fact in facts)),
        arrives=announcing.arrives(later) if later else None,
        why=slips.why(job, facts),
        appointment=job.fixed_start if slips.by_appointment(job, facts) else None,
        off=job.state in slips.WHY_LEFT and job.state != Job.State.PUT_OFF,
    )


def _standing(job: Job | None) -> QuerySet[Visit]:
    return Visit.objects.filter(
        stage__job=job, van_day__plan__state=WeekPlan.State.STANDING
    ).select_related("stage__job__boat__place", "van_day")
