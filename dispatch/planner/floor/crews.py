"""Every team a van can take out on a day, and what it can do."""

from dataclasses import dataclass
from functools import cached_property
from itertools import combinations
from math import comb

import numpy as np

from dispatch.planner.floor.shapes import Bools, Ints
from dispatch.planner.problem import Problem, Stage, Van

# More teams of vans on days, or more stages, are too many to price one by one.
_MOST_TEAMS = 12_000
_MOST_STAGES = 400


@dataclass(frozen=True)
class Teams:
    """All teams of the people on duty that keep the rules of a team, by size."""

    problem: Problem

    @cached_property
    def names(self) -> list[str]:
        """The people, in the problem's order."""
        return list(self.problem.people)

    def of(self, van: Van, day: int, away: set[str]) -> list[tuple[str, ...]]:
        """Return the teams for a van on a day, but for people who are away."""
        duty = [
            p.id
            for p in self.problem.people.values()
            if p.duty[day] is not None and p.id not in away
        ]
        sizes = range(1, min(van.seats, len(duty)) + 1)
        return [t for k in sizes for t in combinations(duty, k) if self._allowed(t)]

    def _allowed(self, team: tuple[str, ...]) -> bool:
        people = [self.problem.people[name] for name in team]
        if not any(p.driver for p in people):
            return False
        if len(team) == 1 and people[0].not_alone:
            return False
        return not any(a in team and b in team for a, b in self.problem.apart)

    def members(self, teams: list[tuple[str, ...]]) -> Bools:
        """Return [team, person]: who is in which team."""
        number = {name: i for i, name in enumerate(self.names)}
        table = np.zeros((len(teams), len(self.names)), np.bool_)
        for i, team in enumerate(teams):
            table[i, [number[name] for name in team]] = True
        return table

    def able(self, teams: list[tuple[str, ...]], more: int) -> Bools:
        """Return [team, stage]: whether a team is big, skilled and cleared enough; any team does `more` tasks."""
        members = self.members(teams).astype(np.int64)
        size = members.sum(axis=1)
        columns = [self._can(s, members, size) for s in self.problem.stages.values()]
        columns += [np.ones(len(teams), np.bool_)] * more
        return np.array(columns, np.bool_).reshape(-1, len(teams)).T.copy()

    def _can(self, stage: Stage, members: Ints, size: Ints) -> Bools:
        people = list(self.problem.people.values())
        barred = np.array([p.id in stage.barred for p in people], np.int64)
        fit = (size >= min(stage.minutes)) & (members @ barred == 0)
        for need in stage.needs:
            able = [p.skills.get(need.skill, 0) >= need.level for p in people]
            fit &= members @ np.array(able, np.int64) >= need.count
        return fit


def too_many(problem: Problem) -> bool:
    """Whether a week has more teams or stages than can be priced one by one."""
    teams = sum(
        _teams(problem, van, day)
        for van in problem.vans.values()
        for day in range(len(problem.days))
        if van.duty[day] is not None
    )
    return teams > _MOST_TEAMS or len(problem.stages) > _MOST_STAGES


def _teams(problem: Problem, van: Van, day: int) -> int:
    duty = sum(p.duty[day] is not None for p in problem.people.values())
    return sum(comb(duty, size) for size in range(1, min(van.seats, duty) + 1))
