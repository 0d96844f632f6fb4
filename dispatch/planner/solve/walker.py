"""One compiled walk through weeks: where it is, the best it has seen, room to work in."""

import math

from dispatch.planner.core.calls import (
    added_by_job,
    added_by_stage,
    fill_up,
    renew,
    total_cents,
    walk,
)
from dispatch.planner.core.room import new_room
from dispatch.planner.core.shapes import SCORE, Given, Week, blank
from dispatch.planner.core.weeks import twin_of


class Walker:
    """Walks from a week; `best` and `now` are weeks as arrays."""

    def __init__(self, given: Given, week: Week, seed: int) -> None:
        self.given, self.seed = given, seed
        self.room = new_room()
        self.now = twin_of(week, seed)
        renew(self.now)
        self.best = twin_of(self.now, seed)
        self._spare = [twin_of(self.now, seed + i) for i in (1, 2, 3)]
        self.score = blank(SCORE)
        self.score["now"] = self.score["least"] = total_cents(given, week)

    @property
    def now_cents(self) -> float:
        """Cents of the week the walk is at."""
        return float(self.score["now"])

    @property
    def least(self) -> float:
        """Cents of the best week seen."""
        return float(self.score["least"])

    def fill(self, first: int = -1) -> None:
        """Put every missing job in where it costs least, the given one (if any) before the others."""
        _, before, found = self._spare
        fill_up(self.given, self.now, before, found, self.room, first)
        self.restart(self.now)

    def steps(self, count: int, heat: float) -> int:
        """Take so many steps, fewer when told to halt meanwhile; return how many."""
        twin, before, found = self._spare
        weeks = (self.now, self.best, twin, before, found)
        return int(walk(self.given, *weeks, self.room, self.score, count, heat))

    def halt(self) -> None:
        """End the walking under way after its next step."""
        self.score["halt"] = 1.0

    def go_on(self) -> None:
        """Let the next walking go its full length."""
        self.score["halt"] = 0.0

    def restart(self, week: Week) -> None:
        """Go on from a week found elsewhere; it becomes the best if it is."""
        cents = total_cents(self.given, week)
        self.now = twin_of(week, int(self.now["dice"][0]))
        renew(self.now)
        self.score["now"] = cents
        if cents <= self.score["least"]:
            self.best = twin_of(self.now, self.seed)
            self.score["least"] = cents

    def forget(self, week: Week) -> None:
        """Go back to a week, the best with it: what was found since may not be kept."""
        self.now = twin_of(week, int(self.now["dice"][0]))
        renew(self.now)
        self.best = twin_of(self.now, self.seed)
        self.score["now"] = self.score["least"] = total_cents(self.given, week)

    def added(self, stage: int) -> float | None:
        """Return what placing a stage would add, with the rest of its job when it needs it; None without room."""
        row = self.given["stages"][stage]
        _, before, _ = self._spare
        if row["extra"]:
            cents = added_by_stage(self.given, self.now, self.room, before, stage)
        else:
            job = int(row["job"])
            cents = added_by_job(self.given, self.now, self.room, before, job)
        return None if math.isnan(cents) else float(cents)
