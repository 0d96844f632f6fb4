"""The first rows of the week's programme: vans, people and hours once, every stage done or left out."""

from collections import defaultdict

from dispatch.planner.floor.done import visited, worked
from dispatch.planner.floor.slots import Slots
from dispatch.planner.floor.sums import INF, Sums, Variable
from dispatch.planner.problem import Stage


class Ledger:
    """Rows and variables of a problem over its slots' pieces, by what they stand for."""

    def __init__(self, slots: Slots) -> None:
        self.slots, self.problem, self.sums = slots, slots.problem, Sums()
        self.visited = {v.stage: v for v in visited(self.problem)}
        self.of_stage: dict[str, list[int]] = defaultdict(list)
        for i, piece in enumerate(slots.pieces):
            self.of_stage[piece.stage].append(i)
        self.van = {
            (s.van.id, s.day): self.sums.row(1.0 if s.held else -INF, 1.0)
            for s in slots.slots
        }
        days = range(len(self.problem.days))
        self.person = {
            (who, day): self.sums.row(-INF, 1.0)
            for who in self.problem.people
            for day in days
        }
        self.hours = self._hours()
        self.way = self._ways()
        self.short: dict[str, Variable] = {}
        self.cover: dict[str, int] = {}
        self.leaves: dict[tuple[str, int | None, int], int] = {}
        self.out = {s.id: self._cover(s) for s in self.problem.stages.values()}

    def _hours(self) -> dict[str, int]:
        """Add a row for each person's minutes: what is beyond the regular ones is paid half as much again."""
        gone, found = worked(self.problem), {}
        most = sum(end - start for start, end in self.problem.days)
        for person in self.problem.people.values():
            left = person.week_regular_min - gone.get(person.id, 0)
            row = self.sums.row(-INF, left / 60)
            beyond = gone.get(person.id, 0) + most
            over = self.sums.variable(beyond / 60, person.cents_per_hour / 2)
            over.entries[row] = -1.0
            found[person.id] = row
        return found

    def _ways(self) -> dict[tuple[str, str], Variable]:
        """Add the choice of exactly one variant for each job that has any."""
        found = {}
        for job in self.problem.jobs.values():
            row = self.sums.row(1.0, 1.0) if job.variants else -1
            for way in job.variants:
                chosen = self.sums.variable(1.0, 0.0)
                chosen.entries[row] = 1.0
                found[job.id, way] = chosen
        return found

    def _cover(self, stage: Stage) -> Variable:
        """Add that a stage of the plan is visited once or left out; return the leaving out."""
        pinned = stage.pinned is not None
        out = self.sums.variable(
            1.0, stage.drop_cents + (self.never() if pinned else 0)
        )
        total = 0.0 if stage.variant is not None else 1.0
        row = self.sums.row(total, total)
        out.entries[row] = 1.0
        self.cover[stage.id] = row
        if stage.variant is not None:
            self.way[stage.job, stage.variant].entries[row] = -1.0
        if stage.id in self.visited:
            self.sums.less(row, 1.0)
        self.sums.entries += [(i, row, 1.0) for i in self.of_stage[stage.id]]
        return out

    def never(self) -> float:
        """Return cents that make the programme do what no plan may leave out."""
        jobs = self.problem.jobs.values()
        return 1e5 + 3.0 * max((j.unfinished_cents for j in jobs), default=0)

    def spare(self) -> dict[int, float]:
        """Return rows that may be filled for many cents until outings are found that do."""
        held = [self.van[s.van.id, s.day] for s in self.slots.slots if s.held]
        return dict.fromkeys([*held, *self.cover.values()], 2 * self.never())
