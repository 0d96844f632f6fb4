"""What holds a visit where it is: what keeps it from an earlier start and what from a later one."""

from collections.abc import Iterable
from dataclasses import dataclass

from dispatch.planner import ceilings, floors
from dispatch.planner.around import Around, Hold
from dispatch.planner.plan import Plan
from dispatch.planner.problem import Problem


@dataclass(frozen=True, kw_only=True, slots=True)
class Here:
    """A visit, and what holds it on either side, the nearest first (minutes from the horizon's start).

    `sooner` and `later` say by how many minutes it could move with all else as it stands; a hold
    that is only wished for (what was told, a promise, a risk) does not limit them.
    """

    stage: str
    van: str
    day: int
    start: int
    end: int
    before: tuple[Hold, ...]
    after: tuple[Hold, ...]

    @property
    def sooner(self) -> int:
        """Minutes it could start sooner, were the team there."""
        return max(0, self.start - max(h.minute for h in self.before if not h.wish))

    @property
    def later(self) -> int:
        """Minutes it could start later."""
        return max(0, min(h.minute for h in self.after if not h.wish) - self.start)


def why_here(problem: Problem, plan: Plan, stage: str) -> Here | None:
    """Return what holds a visit of a plan that keeps every rule; None when the stage has no visit."""
    found = plan.visits().get(stage)
    if found is None:
        return None
    van_day, visit = found
    around = Around(problem=problem, plan=plan, van_day=van_day, visit=visit)
    return Here(
        stage=stage,
        van=van_day.van,
        day=van_day.day,
        start=visit.start,
        end=visit.end,
        before=_nearest(floors.of(around), visit.start),
        after=_nearest(ceilings.of(around), visit.start),
    )


def _nearest(holds: Iterable[Hold], start: int) -> tuple[Hold, ...]:
    """Return the holds, what binds most first; of one kind the nearest alone, of what one visit asks for a minute the first."""
    kept: list[Hold] = []
    codes: set[str] = set()
    told: set[tuple[str, int]] = set()
    for hold in sorted(holds, key=lambda h: (abs(h.minute - start), h.wish)):
        asks = (hold.other or hold.code, hold.minute)
        if hold.code not in codes and asks not in told:
            kept.append(hold)
            told.add(asks)
        codes.add(hold.code)
    return tuple(kept)
