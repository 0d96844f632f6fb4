"""What work really took beside what was planned: of a job's own stages, and of the last like it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import timedelta

from dispatch.actions import coats, facts, visit_waits
from dispatch.records.models import Job, Stage
from dispatch.trade import cure, learning
from dispatch.trade.spans import Span
from dispatch.trade.words import Words

_LAST = 20
_NOT_MEASURED = "not measured"


@dataclass(frozen=True, kw_only=True)
class Took:
    """One finished stage of another boat: planned and real labour-minutes, planned and measured product in words.

    Real is labour, so without waits between coats; None where the team is not known. ``used`` is empty where no
    product is laid.
    """

    boat: str
    stage: str
    long: str
    grade: int
    planned_minutes: float
    clock_minutes: int
    team: int | None
    real_minutes: int | None
    planned: str
    used: str
    learnt: float = 1.0
    regraded: float = 1.0

    @property
    def ratio(self) -> float | None:
        """Real labour over the catalogue's for the grade she turned out to be, without what was learnt before it was planned."""
        catalogue = self.planned_minutes / self.learnt * self.regraded
        real = self.real_minutes
        return real / catalogue if real and catalogue else None


def last(job: Job, words: Words) -> Iterator[Took]:
    """Finished stages of other boats, of the same kind and grade, the newest first."""
    done = (
        Stage.objects.filter(
            job__kind=job.kind,
            job__grade=job.grade,
            state=Stage.State.DONE,
            started_at__isnull=False,
        )
        .exclude(job=job)
        .select_related("job__boat", "visit__van_day")
        .prefetch_related("laid")
        .order_by("-ended_at")
    )
    for stage in done[:_LAST]:
        minutes = clock_minutes(stage)
        if minutes is None:
            continue
        lays = bool(stage.product_ml)
        yield Took(
            boat=stage.job.boat.name,
            stage=stage.name,
            long=words.distance(stage.job.boat.length_m),
            grade=stage.job.grade,
            planned_minutes=labour(stage),
            clock_minutes=minutes,
            team=team(stage),
            real_minutes=real_labour(stage),
            planned=words.volume(stage.product_ml) if lays else "",
            used=_used(stage, words) if lays else "",
            learnt=learnt(stage),
            regraded=regraded(stage),
        )


def ratio(rows: Sequence[Took]) -> float | None:
    """How real labour lay to planned, learnt from those known, the newest weighing most."""
    return learning.ratio([one.ratio for one in rows if one.ratio is not None])


def learnt(stage: Stage) -> float:
    """By how much the catalogue's minutes were stretched when a stage was planned."""
    return next((float(row.get("learnt", 1.0)) for row in stage.steps), 1.0)


def regraded(stage: Stage) -> float:
    """How much longer a stage takes by the grade she turned out to be than by the one it was planned with."""
    return next((float(row.get("regraded", 1.0)) for row in stage.steps), 1.0)


def labour(stage: Stage) -> float:
    """Labour-minutes of a stage as planned."""
    return sum(float(row["labour_minutes"]) for row in stage.steps)


def clock_minutes(stage: Stage) -> int | None:
    """Minutes by the clock from a stage's start to its end; None where either was not reported."""
    if stage.started_at is None or stage.ended_at is None:
        return None
    return round((stage.ended_at - stage.started_at) / timedelta(minutes=1))


def real_labour(stage: Stage) -> int | None:
    """Labour-minutes that a finished stage really was; None where its times or its team are not known.

    Waits are no labour, and three do not do thrice what one does: the minutes by the clock less the
    waits are held against what was planned for that team.
    """
    minutes, people = clock_minutes(stage), team(stage)
    if not minutes or not people or not stage.minutes:
        return None
    planned_for = sorted(int(size) for size in stage.minutes)
    size = str(min(max(people, planned_for[0]), planned_for[-1]))
    own = int(stage.minutes.get(size, 0))
    if not own:
        return None
    waits = visit_waits.of(stage, _hull_c(stage))[size]
    return round(labour(stage) * max(1, minutes - waits) / own)


def _hull_c(stage: Stage) -> float:
    """The coldest her hull was while a finished stage was done."""
    if stage.started_at is None or stage.ended_at is None:
        return cure.REFERENCE_C
    whole = max(stage.ended_at, stage.started_at + timedelta(minutes=1))
    return facts.coldest_c(stage, (Span(stage.started_at, whole),))


def team(stage: Stage) -> int | None:
    """How many people did a stage; None where it was in no posted week."""
    visit = getattr(stage, "visit", None)
    return visit.van_day.team.count() if visit else None


def really(stage: Stage) -> str:
    """What a stage's labour really was, in words; empty while it is not done."""
    if stage.state != Stage.State.DONE:
        return ""
    minutes = clock_minutes(stage)
    if minutes is None:
        return "not timed"
    real = real_labour(stage)
    return f"{minutes} min, team not known" if real is None else f"{real}"


def by_coat(stage: Stage, words: Words) -> tuple[str, str, str]:
    """What the first, the second and both coats really took, in words; empty where nobody reported that coat."""
    laid = {row.coat: row.used_ml for row in stage.laid.all()}
    first, second = (_told(laid, coat, words) for coat in (coats.FIRST, coats.SECOND))
    if coats.BOTH in laid:
        return first, second, _told(laid, coats.BOTH, words)
    known = [laid.get(coat) for coat in (coats.FIRST, coats.SECOND)]
    whole = sum(ml for ml in known if ml is not None)
    both = words.volume(whole) if None not in known else ""
    return first, second, both


def _told(laid: dict[int, float | None], coat: int, words: Words) -> str:
    if coat not in laid:
        return ""
    used = laid[coat]
    return _NOT_MEASURED if used is None else words.volume(used)


def _used(stage: Stage, words: Words) -> str:
    return by_coat(stage, words)[2] or _NOT_MEASURED
