"""Whether some team that may ride together could do a stage: every one is tried, alike people once."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

from dispatch.planner.problem import Minutes, Person, Problem, Stage

# Hours a team shares, and how many they are, in; whether that would do, out.
Fits = Callable[[Minutes, int], bool]
# After so many teams looked at, nothing is proven and one may well exist.
MOST_LOOKS = 5_000


@dataclass(kw_only=True, slots=True)
class Call:
    """What is asked of a team for one stage on one day: its seats and the hours that would do."""

    problem: Problem
    stage: Stage
    day: int
    seats: int
    fits: Fits
    looks: int = field(default=0, init=False)

    def answered(self) -> bool:
        """Whether a team could be formed; also True when too many were looked at to say."""
        hours = self.problem.days[self.day]
        hours = (max(hours[0], self.problem.now), hours[1])
        return self._grows((), hours, tuple(self._hands()))

    def _hands(self) -> Iterator[Person]:
        for person in self.problem.people.values():
            if person.duty[self.day] is not None and person.id not in self.stage.barred:
                yield person

    def _grows(
        self, team: tuple[Person, ...], hours: Minutes, pool: tuple[Person, ...]
    ) -> bool:
        """Whether this team does, or does with some of the pool beside it."""
        self.looks += 1
        if self.looks > MOST_LOOKS or self._does(team, hours):
            return True
        if len(team) == self.seats or not self._could(len(team), hours):
            return False
        wanted, tried = self._wanted(team), set[object]()
        for i, person in enumerate(pool):
            if not wanted(person) or (look := self._look(person)) in tried:
                continue
            tried.add(look)
            left = tuple(
                p
                for j, p in enumerate(pool)
                if (j > i or not wanted(p)) and not self._apart(p, person)
            )
            if self._grows((*team, person), self._shared(hours, person), left):
                return True
        return False

    def _could(self, size: int, hours: Minutes) -> bool:
        """Whether a team at least that big would do with these hours: who joins only narrows them."""
        sizes = {k for k in self.stage.minutes if size < k <= self.seats} | {size + 1}
        return any(self.fits(hours, k) for k in sizes)

    def _does(self, team: Sequence[Person], hours: Minutes) -> bool:
        if len(team) < min(self.stage.minutes) or not any(p.driver for p in team):
            return False
        if len(team) == 1 and team[0].not_alone:
            return False
        if any(held(team, n.skill, n.level) < n.count for n in self.stage.needs):
            return False
        return self.fits(hours, len(team))

    def _wanted(self, team: Sequence[Person]) -> Callable[[Person], bool]:
        """Return who could serve what the team lacks first: a need, then a driver, then anybody."""
        for need in self.stage.needs:
            if held(team, need.skill, need.level) < need.count:
                skill, level = need.skill, need.level
                return lambda p: p.skills.get(skill, 0) >= level
        if any(p.driver for p in team):
            return lambda _: True
        return lambda p: p.driver

    def _shared(self, hours: Minutes, person: Person) -> Minutes:
        duty = person.duty[self.day] or (0, 0)
        return max(hours[0], duty[0]), min(hours[1], duty[1])

    def _apart(self, one: Person, other: Person) -> bool:
        pairs = self.problem.apart
        return (one.id, other.id) in pairs or (other.id, one.id) in pairs

    def _look(self, person: Person) -> object:
        """Return all that tells people apart here: of those who look alike one is tried."""
        skills = tuple(
            person.skills.get(n.skill, 0) >= n.level for n in self.stage.needs
        )
        paired = any(person.id in pair for pair in self.problem.apart)
        own = person.id if paired else ""
        return skills, person.driver, person.not_alone, person.duty[self.day], own


def held(team: Sequence[Person], skill: str, level: int) -> int:
    """Return how many hold a skill at a level or above."""
    return sum(p.skills.get(skill, 0) >= level for p in team)
