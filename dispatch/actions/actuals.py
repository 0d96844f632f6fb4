"""Planned against real labour-minutes of finished stages, by stage and condition grade."""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from dispatch.actions import took
from dispatch.records.models import Stage
from dispatch.trade import learning

_MOST = 600


@dataclass(frozen=True, kw_only=True)
class Point:
    """A finished stage: labour-minutes as planned and as they were, and the boat's condition grade.

    ``catalogue`` is what was planned without what had been learnt before.
    """

    boat: str
    stage: str
    visit: str
    grade: int
    planned: float
    real: float
    catalogue: float


@dataclass(frozen=True, kw_only=True)
class Row:
    """A stage at a grade: how many, the middle of planned and of real minutes, and the ratio that is learnt."""

    stage: str
    grade: int
    count: int
    planned: float
    real: float
    ratio: float | None


def points() -> tuple[Point, ...]:
    """The latest finished stages whose times and team are known, the newest first."""
    done = (
        Stage.objects.filter(state=Stage.State.DONE, started_at__isnull=False)
        .select_related("job__boat", "visit__van_day")
        .order_by("-ended_at", "-pk")
    )
    found = (_point(stage) for stage in done[:_MOST])
    return tuple(one for one in found if one is not None)


def rows(given: Sequence[Point]) -> tuple[Row, ...]:
    """Points, the newest first, gathered by stage and grade."""
    groups: dict[tuple[str, int], list[Point]] = {}
    for one in given:
        groups.setdefault((one.visit, one.grade), []).append(one)
    return tuple(
        Row(
            stage=found[0].stage,
            grade=grade,
            count=len(found),
            planned=median(one.planned for one in found),
            real=median(one.real for one in found),
            ratio=learning.ratio([one.real / one.catalogue for one in found]),
        )
        for (_, grade), found in sorted(groups.items())
    )


def _point(stage: Stage) -> Point | None:
    real, planned = took.real_labour(stage), took.labour(stage)
    if not real or not planned:
        return None
    visit = stage.key.removesuffix(f"-{stage.variant}") if stage.variant else stage.key
    return Point(
        boat=stage.job.boat.name,
        stage=stage.name,
        visit=visit,
        grade=stage.job.grade,
        planned=planned,
        real=float(real),
        catalogue=planned / took.learnt(stage),
    )
