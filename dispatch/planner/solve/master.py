"""The master problem: the cheapest week out of van-days already timed, by CP-SAT."""

from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from threading import Event, Thread

from ortools.sat.python import cp_model

from dispatch.planner.plan import VanDay
from dispatch.planner.problem import Problem
from dispatch.planner.solve import chains
from dispatch.planner.solve.slots import (
    FINE,
    Offer,
    Slot,
    follows,
    held_until,
    offer,
    slot_cost,
)

Literal = cp_model.IntVar

_MOMENT = 0.02  # seconds between looks at whether somebody asked to stop


@dataclass(frozen=True, kw_only=True, slots=True)
class Choice:
    """The van-days picked and the variant of each job that has any."""

    columns: tuple[int, ...]
    chosen: dict[str, str]


class Master:
    """One model over a list of van-days; ``forbid`` rules a choice out, ``solve`` gives the next."""

    def __init__(self, problem: Problem, columns: Sequence[VanDay]) -> None:
        self.problem, self.columns = problem, columns
        self.model = cp_model.CpModel()
        self.offer: Offer = offer(problem, columns)
        self.pick = [self.model.new_bool_var(f"c{i}") for i in range(len(columns))]
        self.slots = {
            slot: self._slot(slot, by) for slot, by in self.offer.slots.items()
        }
        self.ways = self._ways()
        self.placed = self._placed()
        self._once()
        self._order()
        self._boats()
        chains.add(self.model, problem, self.offer, self.pick, self.slots)
        self.model.minimize(sum(self._money()))

    def _slot(self, slot: Slot, by: list[int]) -> Literal:
        literal = self.model.new_bool_var(f"{slot.stage}@{slot.start}")
        self.model.add(sum(self.pick[i] for i in by) == literal)
        if held_until(self.problem, slot) is None:
            self.model.add(literal == 0)
        return literal

    def _ways(self) -> dict[tuple[str, str], Literal]:
        found: dict[tuple[str, str], Literal] = {}
        for job in self.problem.jobs.values():
            literals = [
                self.model.new_bool_var(f"{job.id}:{way}") for way in job.variants
            ]
            found |= {
                (job.id, way): literal
                for way, literal in zip(job.variants, literals, strict=True)
            }
            if literals:
                self.model.add_exactly_one(literals)
        return found

    def _placed(self) -> dict[str, Literal]:
        by_stage = defaultdict(list)
        for slot, literal in self.slots.items():
            by_stage[slot.stage].append(literal)
        found = {}
        for stage in self.problem.stages.values():
            placed = self.model.new_bool_var(stage.id)
            self.model.add(sum(by_stage[stage.id]) == placed)
            way = self._way(stage.id)
            if way is not None:
                self.model.add_implication(placed, way)
            if stage.pinned is not None:
                self.model.add(placed == 1 if way is None else placed == way)
            found[stage.id] = placed
        return found

    def _way(self, stage: str) -> Literal | None:
        row = self.problem.stages[stage]
        return None if row.variant is None else self.ways[row.job, row.variant]

    def _once(self) -> None:
        """A van has one van-day a day, a person rides in one; what is frozen is there."""
        frozen = {(row["van"], row["day"]) for row in self.problem.frozen}
        rides, vans = defaultdict(list), defaultdict(list)
        for column, literal in zip(self.columns, self.pick, strict=True):
            vans[column.van, column.day].append(literal)
            for person in column.team:
                rides[person, column.day].append(literal)
        for key, literals in vans.items():
            (
                self.model.add_exactly_one
                if key in frozen
                else self.model.add_at_most_one
            )(literals)
        for literals in rides.values():
            self.model.add_at_most_one(literals)

    def _order(self) -> None:
        by_stage = defaultdict(list)
        for slot, literal in self.slots.items():
            by_stage[slot.stage].append((slot, literal))
        for stage in self.problem.stages.values():
            for rule in stage.after:
                self._needs(stage.id, rule.stage)
                for before, first in by_stage[rule.stage]:
                    for after, second in by_stage[stage.id]:
                        if not follows(self.problem, before, after):
                            self.model.add_bool_or(first.Not(), second.Not())

    def _needs(self, stage: str, before: str) -> None:
        """A stage is placed only when the one before it is, where that is part of the plan."""
        way = self._way(before)
        if way is None:
            self.model.add_implication(self.placed[stage], self.placed[before])
        else:
            self.model.add_bool_or(
                self.placed[stage].Not(), way.Not(), self.placed[before]
            )

    def _boats(self) -> None:
        spans = defaultdict(list)
        for slot, literal in self.slots.items():
            until = held_until(self.problem, slot)
            if until is not None:
                boat = self.problem.jobs[self.problem.stages[slot.stage].job].boat
                span = self.model.new_optional_fixed_size_interval_var(
                    slot.start, until - slot.start, literal, ""
                )
                spans[boat].append(span)
        for rows in spans.values():
            self.model.add_no_overlap(rows)

    def _money(self) -> list[cp_model.LinearExprT]:
        parts: list[cp_model.LinearExprT] = []
        for index, (column, literal) in enumerate(
            zip(self.columns, self.pick, strict=True)
        ):
            wages = sum(self.problem.people[who].cents_per_hour for who in column.team)
            parts.append(
                (wages * self.offer.paid[index] + self.offer.van_cost[index]) * literal
            )
        parts += [
            slot_cost(self.problem, slot) * literal
            for slot, literal in self.slots.items()
        ]
        parts += [self._overtime(who) for who in self.problem.people]
        parts += [part for job in self.problem.jobs for part in self._job(job)]
        return parts + self._untold()

    def _overtime(self, who: str) -> cp_model.LinearExprT:
        person = self.problem.people[who]
        mine = [
            self.offer.paid[i] * self.pick[i]
            for i, column in enumerate(self.columns)
            if who in column.team
        ]
        if not mine:
            return 0
        over = self.model.new_int_var(0, 20_000, f"over {who}")
        self.model.add(over >= sum(mine) - person.week_regular_min)
        return over * (person.cents_per_hour // 2)

    def _job(self, key: str) -> list[cp_model.LinearExprT]:
        """Finish, lateness and what is left out of one job."""
        job, last = self.problem.jobs[key], self.problem.days[-1][1]
        stages = [stage for stage in self.problem.stages.values() if stage.job == key]
        finish = self.model.new_int_var(0, last + 60_000, f"finish {key}")
        short = self.model.new_bool_var(f"short {key}")
        parts: list[cp_model.LinearExprT] = [
            finish * job.finish_cents_per_hour,
            FINE * job.unfinished_cents * short,
        ]
        self.model.add(finish >= last).only_enforce_if(short)
        for stage in stages:
            out = self._left_out(stage.id)
            parts.append(FINE * stage.drop_cents * out)
            if not stage.extra:
                self.model.add_implication(out, short)
        for slot, literal in self.slots.items():
            if self.problem.stages[slot.stage].job == key:
                self.model.add(
                    finish >= (held_until(self.problem, slot) or 0)
                ).only_enforce_if(literal)
        if job.promise is not None and job.late_cents_per_hour:
            late = self.model.new_int_var(0, last + 60_000, f"late {key}")
            self.model.add(late >= finish - job.promise)
            parts.append(late * job.late_cents_per_hour)
        return parts

    def _left_out(self, stage: str) -> Literal:
        """A literal that is true when the stage is part of the plan and not placed."""
        out, way = self.model.new_bool_var(f"out {stage}"), self._way(stage)
        self.model.add(out == (1 if way is None else way) - self.placed[stage])
        return out

    def _untold(self) -> list[cp_model.LinearExprT]:
        told = self.problem.standing
        visits = told.visits if told else {}
        cents = FINE * told.day_cents if told else 0
        return [cents * (1 - self.placed[stage]) for stage in visits]

    def hint(self, columns: set[int], chosen: dict[str, str]) -> None:
        """Start from a week known to be good."""
        for index, literal in enumerate(self.pick):
            self.model.add_hint(literal, index in columns)
        there = {
            slot.stage for slot, by in self.offer.slots.items() if columns & set(by)
        }
        for slot, literal in self.slots.items():
            self.model.add_hint(literal, bool(columns & set(self.offer.slots[slot])))
        for stage, literal in self.placed.items():
            self.model.add_hint(literal, stage in there)
        for (job, way), literal in self.ways.items():
            self.model.add_hint(literal, chosen.get(job) == way)

    def forbid(self, choice: Choice) -> None:
        """Rule out every choice with all of these van-days."""
        self.model.add_bool_or([self.pick[i].Not() for i in choice.columns])

    def solve(
        self, limits: tuple[float, float], seed: int, stop: Callable[[], bool]
    ) -> Choice | None:
        """The best choice found within CP-SAT's deterministic time and the clock's, or None.

        Where the clock sets no limit (infinity), a seed's answer is the same however busy the machine is.
        """
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = seed % 2**31
        work, seconds = limits
        solver.parameters.max_deterministic_time = work
        solver.parameters.max_time_in_seconds = seconds
        with _watching(stop, solver.stop_search):
            status = solver.solve(self.model)
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return None
        return Choice(
            columns=tuple(
                i
                for i, literal in enumerate(self.pick)
                if solver.boolean_value(literal)
            ),
            chosen={
                job: way
                for (job, way), literal in self.ways.items()
                if solver.boolean_value(literal)
            },
        )


@contextmanager
def _watching(stop: Callable[[], bool], halt: Callable[[], None]) -> Iterator[None]:
    """Call `halt` within a moment once somebody asks to stop."""
    over = Event()

    def watch() -> None:
        while not over.wait(_MOMENT):
            if stop():
                halt()

    watcher = Thread(target=watch, daemon=True)
    watcher.start()
    try:
        yield
    finally:
        over.set()
        watcher.join()
