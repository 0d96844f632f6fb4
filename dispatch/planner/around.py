"""A visit and what lies around it in its plan."""

from collections.abc import Iterator
from dataclasses import dataclass

from dispatch.planner.plan import Plan, Tow, VanDay, Visit
from dispatch.planner.problem import Minutes, Problem, Stage, lag_minutes

_DAY = 1440
_LONG = 120  # minutes from which a length of time is told in hours


@dataclass(frozen=True, kw_only=True, slots=True)
class Hold:
    """One thing that bounds a visit's start: a code, the minute it allows, a sentence with its numbers.

    `wish`: it costs money to go beyond, but no rule forbids it. `other`: the stage of another visit that it is about.
    """

    code: str
    minute: int
    sentence: str
    wish: bool = False
    other: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Around:
    """One visit in its van-day in its plan."""

    problem: Problem
    plan: Plan
    van_day: VanDay
    visit: Visit

    @property
    def stage(self) -> Stage:
        """The stage visited."""
        return self.problem.stages[self.visit.stage]

    @property
    def minutes(self) -> int:
        """Minutes from start to end, a break inside it included."""
        return self.visit.end - self.visit.start

    @property
    def hold(self) -> int:
        """Minutes during which nobody works on the boat afterwards."""
        return lag_minutes(self.stage.hold_min, self.visit.end) or 0

    def at(self, minute: int) -> str:
        """Return a minute as the day's number and the time since its start: day 2, 10:20."""
        return when(self.problem, minute)

    def duty(self) -> Iterator[tuple[str, Minutes]]:
        """Yield the van's and each member's duty that day."""
        day, problem = self.van_day.day, self.problem
        holders = [(self.van_day.van, problem.vans[self.van_day.van].duty)]
        holders += [(name, problem.people[name].duty) for name in self.van_day.team]
        for name, duties in holders:
            duty = duties[day]
            if duty is not None:
                yield name, duty

    def boat_mates(self) -> Iterator[tuple[Visit, int]]:
        """Yield every other visit on the same boat, and until when the boat rests after it."""
        jobs = self.problem.jobs
        boat = jobs[self.stage.job].boat
        for name, (_, visit) in self.plan.visits().items():
            stage = self.problem.stages[name]
            if name != self.stage.id and jobs[stage.job].boat == boat:
                hold = lag_minutes(stage.hold_min, visit.end) or 0
                yield visit, visit.end + hold

    def tows(self, kind: str) -> Iterator[Tow]:
        """Yield every tow of a trailer of a kind."""
        trailers = self.problem.trailers
        for van_day in self.plan.van_days:
            for stop in van_day.stops:
                if isinstance(stop, Tow) and trailers[stop.trailer].kind == kind:
                    yield stop

    def neighbour(self, step: int) -> Visit | Tow | None:
        """Return the stop before (-1) or after (1) this one in the van-day; None at its ends."""
        at = self.van_day.stops.index(self.visit) + step
        return self.van_day.stops[at] if 0 <= at < len(self.van_day.stops) else None

    def free_from(self, since: int, drive: int) -> int:
        """Return when a team free since then may start this visit: after its drive, and its break if that lies between."""
        rest = self.van_day.rest
        if rest is None or rest[0] < since or rest[1] > self.visit.start:
            return since + drive
        return rest[1] + (0 if rest[0] - since >= drive else drive)

    def leave_by(self, drive: int, due: int) -> int:
        """Return when the team must leave this visit to be somewhere by then, its break taken if that lies between."""
        rest = self.van_day.rest
        if rest is None or rest[0] < self.visit.end or rest[1] > due:
            return due - drive
        return rest[0] - (0 if due - rest[1] >= drive else drive)

    def pause(self, start: int, end: int) -> str:
        """Return the words for the team's break when it lies between two minutes, else none."""
        rest = self.van_day.rest
        if rest is None or rest[0] < start or rest[1] > end:
            return ""
        return f", a break of {rest[1] - rest[0]} minutes between"

    def place(self, stop: Visit | Tow, *, leaving: bool) -> int:
        """Return the place a stop is at when the team leaves it, or comes to it."""
        if isinstance(stop, Visit):
            return self.problem.stages[stop.stage].place
        return self.problem.places.index(stop.to if leaving else stop.origin)


def lasting(minutes: int) -> str:
    """Return a length of time as people say it: 90 minutes, 8 h 25."""
    if minutes < _LONG:
        return f"{minutes} minutes"
    hours, rest = divmod(minutes, 60)
    return f"{hours} h {rest:02}" if rest else f"{hours} h"


def driving(minutes: int, to: str = "") -> str:
    """Return the words for a drive, none for none: , with 20 minutes to drive home."""
    return f", with {minutes} minutes to drive{to}" if minutes else ""


def when(problem: Problem, minute: int) -> str:
    """Return a minute as the day's number and the time since its start: day 2, 10:20.

    Days past the horizon are counted on, of 24 hours each; what lies before it is told in minutes.
    """
    day = problem.day_of(minute)
    if day is not None:
        since = minute - problem.days[day][0]
    elif minute < problem.days[0][0]:
        return f"{problem.days[0][0] - minute} minutes before day 1"
    else:
        more, since = divmod(minute - problem.days[-1][1], _DAY)
        day = len(problem.days) + more
    hour, past = divmod(since, 60)
    return f"day {day + 1}, {hour:02}:{past:02}"
