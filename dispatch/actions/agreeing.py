"""What a customer is told at once when a job is agreed: the days, what to prepare, whether the yard is to be asked."""

from datetime import datetime

from dispatch.actions import announcing, boat_help, clock
from dispatch.notices.reasons import Agreed
from dispatch.records.models import Job


def told(job: Job) -> int:
    """Put the message that a job is agreed in the outbox, in the caller's transaction; return how many.

    Told again where the days promised have changed since. One that is not agreed is not told of.
    """
    if job.state != Job.State.AGREED:
        return 0
    now = clock.now()
    occasion = Agreed(
        about=announcing.about(job),
        what=job.kind.name,
        done=_promised(job),
        hard=job.promise == Job.Promise.HARD,
        prepare=tuple(boat_help.before(job, now)),
    )
    return announcing.put(job, occasion, "agreed", now)


def _promised(job: Job) -> tuple[datetime, datetime] | None:
    if job.promise == Job.Promise.NONE or job.promised_by is None:
        return None
    first = job.promised_from or job.promised_by
    return min(first, job.promised_by), job.promised_by
