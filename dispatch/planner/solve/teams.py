"""Which people may be one team and do a set of stages."""

from collections.abc import Iterable

from dispatch.planner.solve.facts import Facts, mask


def bits(people: int) -> list[int]:
    """Return the numbers of the people in a mask."""
    return [i for i in range(people.bit_length()) if people >> i & 1]


class Teams:
    """The rules of a team, over masks of people."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        days = range(len(facts.problem.days))
        self.on_duty = [
            mask(i for i, p in enumerate(facts.people) if p.duty[d] is not None)
            for d in days
        ]

    def allowed(self, team: int, stages: Iterable[int]) -> bool:
        """Whether the people in the mask may be one team and do these stages."""
        facts, members = self.facts, bits(team)
        if not team & facts.drivers:
            return False
        if any(team & facts.apart.get(m, 0) for m in members):
            return False
        if len(members) == 1 and facts.people[members[0]].not_alone:
            return False
        return all(self.able(team, len(members), s) for s in stages)

    def able(self, team: int, size: int, stage: int) -> bool:
        """Whether a team is big enough, skilled enough and not barred."""
        facts = self.facts
        if facts.minutes[stage][size] is None or team & facts.barred[stage]:
            return False
        return all(
            (team & able).bit_count() >= count for able, count in facts.needs[stage]
        )
