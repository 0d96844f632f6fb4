"""What finished stages teach of a kind of job at a grade, taken over by the owner."""

from dataclasses import dataclass

from dispatch.actions import rates, settings, took
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Job, Outfit
from dispatch.trade.words import Words

# Fewer may be one odd boat. An assumption.
LEAST = 3
# A nearer one is no news.
_NEWS = 0.02


@dataclass(frozen=True, kw_only=True)
class Lesson:
    """The ratio of real to the catalogue's labour, from how many stages, beside the one jobs are reckoned with."""

    ratio: float | None
    count: int
    applied: float
    least: int = LEAST

    @property
    def taken(self) -> bool:
        """Whether the owner took one over before."""
        return self.applied != 1.0

    @property
    def few(self) -> bool:
        """Whether there are some, and too few."""
        return 0 < self.count < self.least

    @property
    def offers(self) -> bool:
        """Whether there is something new to take over."""
        enough = self.ratio is not None and self.count >= self.least
        return enough and abs((self.ratio or 1.0) - self.applied) >= _NEWS

    def minutes(self, planned: float) -> float:
        """A job's minutes by the ratio, from those it was planned with."""
        return planned / self.applied * (self.ratio or self.applied)


def of(job: Job) -> Lesson:
    """What the last stages of a job's kind and grade teach."""
    words = Words(system=Outfit.objects.get().units)
    known = [one for one in took.last(job, words) if one.ratio is not None]
    return Lesson(
        ratio=took.ratio(known),
        count=len(known),
        applied=rates.learnt(job.kind.key, job.grade),
    )


def take(job: Job, *, by: Account) -> float:
    """Reckon every job of a kind and grade with the minutes learnt, as a setting; stages not posted are reckoned again.

    Raises:
        Stranger: the account is not the owner's.
        Refused: there is nothing new to take over.
    """
    lesson = of(job)
    if not lesson.offers or lesson.ratio is None:
        raise Refused(
            f"There is nothing to take over: {lesson.count} finished stages are known, {LEAST} are needed, and they must differ from what is taken over already."
        )
    factor = round(lesson.ratio, 2)
    settings.change(
        f"learnt.{job.kind.key}.{job.grade}",
        factor,
        by=by,
        why=f"Learnt from {lesson.count} finished stages.",
    )
    return factor
