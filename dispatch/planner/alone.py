"""Whether a stage and nothing else fits a team's day: windows, both drives, the break."""

from collections.abc import Iterator
from dataclasses import dataclass

from dispatch.planner.problem import Minutes, Problem, Stage, Van


@dataclass(frozen=True, kw_only=True, slots=True)
class Trip:
    """One visit and its drives, in minutes; `opens` is when the team may leave at the earliest."""

    opens: int
    there: int
    visit: int
    home: int
    pausable: bool
    rest: int = 0
    rest_window: Minutes = (0, 0)

    def days(self, window: Minutes) -> Iterator[tuple[int, int]]:
        """Yield (end of the visit, back at base), as soon as may be, for each way to take the break."""
        start = max(window[0], self.opens + self.there)
        if not self.rest:
            yield start + self.visit, start + self.visit + self.home
            return
        first, last = self.rest_window[0], self.rest_window[1] - self.rest
        inside = max(start, first - self.visit)
        if self.pausable and max(inside, first) <= last:
            end = inside + self.visit + self.rest
            yield end, end + self.home
        for way in (self.there, 0):
            begin = max(self.opens + way, first)
            if begin <= last:
                come = begin + self.rest + self.there - way
                end = max(window[0], come) + self.visit
                yield end, end + self.home
        end = start + self.visit
        for way in (self.home, 0):
            begin = max(end + way, first)
            if begin <= last:
                yield end, begin + self.rest + self.home - way


def windows_on(problem: Problem, stage: Stage, day: int) -> list[Minutes]:
    """Return the stage's windows cut to a day and to what is still to come, in order."""
    first, last = problem.days[day]
    cut = ((max(s, first, problem.now), min(e, last)) for s, e in stage.windows)
    return sorted((s, e) for s, e in cut if s < e)


def short_by(
    problem: Problem, stage: Stage, at: tuple[Van, int], team: tuple[Minutes, int]
) -> int | None:
    """Return by how many minutes a team (the hours it shares, its size) misses the best window.

    `at` is the van and the day. 0 or less: it fits. None when the van is off, the team too small
    or too big for it, or no break could be taken at all.
    """
    (van, day), (hours, size) = at, team
    visit, duty = problem.minutes_for(stage, size), van.duty[day]
    if visit is None or duty is None or size > van.seats:
        return None
    closes = min(hours[1], duty[1])
    trip = _trip(problem, stage, at, (max(hours[0], duty[0], problem.now), visit))
    return min(
        (
            max(end - window[1], back - closes)
            for window in windows_on(problem, stage, day)
            for end, back in trip.days(window)
        ),
        default=None,
    )


def _trip(
    problem: Problem, stage: Stage, at: tuple[Van, int], work: tuple[int, int]
) -> Trip:
    (van, day), (opens, visit) = at, work
    there = problem.drive_min[van.base][stage.place]
    home = problem.drive_min[stage.place][van.base]
    rule = problem.rest
    due = rule is not None and there + visit + home > rule.after_min
    return Trip(
        opens=opens,
        there=there,
        visit=visit,
        home=home,
        pausable=stage.pausable,
        rest=rule.minutes if rule and due else 0,
        rest_window=rule.windows[day] if rule and due else (0, 0),
    )
