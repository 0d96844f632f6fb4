"""A visit under way that takes longer than planned: until when it is thought to take."""

from datetime import datetime, timedelta

from django.db import transaction

from dispatch.actions import access, board_words, clock, history, timeline
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Stage, Visit

_MOST = timedelta(hours=16)


@transaction.atomic
def until(visit: Visit, end: datetime, *, by: Account) -> str:
    """Store until when a visit under way is thought to take; return it as a sentence. Nobody is told.

    Raises:
        Stranger: the account is not the owner's.
        Refused: it is not under way, or the time has gone by or lies too far away.
    """
    access.owner(by)
    stage = visit.stage
    started = stage.started_at
    if stage.state != Stage.State.UNDER_WAY or started is None:
        raise Refused(
            f"{stage.name} on {stage.job.boat.name} is not under way. Only a visit that was started can take longer."
        )
    zone, now = timeline.of(visit.van_day.plan.week).zone, clock.now()
    if not now < end <= started + _MOST:
        raise Refused(
            f"It is {board_words.when(now, zone)}; give a time later than that, and within 16 h of the start."
        )
    planned = visit.end
    Visit.objects.filter(pk=visit.pk).update(start=min(started, end), end=end)
    over = round((end - planned).total_seconds() / 60)
    how = f"{board_words.lasting(over)} {'later' if over > 0 else 'sooner'} than was planned"
    sentence = f"{stage.name} on {stage.job.boat.name} takes until {board_words.when(end, zone)}, {how}."
    history.write("set-until", f"job {stage.job.key}", sentence, by=by)
    return sentence
