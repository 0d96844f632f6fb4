"""Work kept for wet weather: what may be done under cover while it rains, of jobs in the book and not posted yet."""

from dataclasses import dataclass

from dispatch.actions import facts
from dispatch.records.models import Stage

# What asks nothing of the sky: inside a boat, or anywhere.
_DRY = ("inside", "any")


@dataclass(frozen=True, kw_only=True)
class Kept:
    """A stage that rain does not stop: labour-minutes, and whether something must be done before it."""

    stage: Stage
    minutes: float
    waits: bool


def of() -> tuple[Kept, ...]:
    """The stages, those that may begin at once first, the longest of them first."""
    rows = (
        facts.open_stages()
        .filter(family__in=_DRY, state=Stage.State.TO_DO, extra=False, visit=None)
        .prefetch_related("links__before")
    )
    found = [
        Kept(
            stage=stage,
            minutes=sum(float(step["labour_minutes"]) for step in stage.steps),
            waits=any(
                link.before.state != Stage.State.DONE for link in stage.links.all()
            ),
        )
        for stage in rows
    ]
    return tuple(sorted(found, key=lambda one: (one.waits, -one.minutes)))
