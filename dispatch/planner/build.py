"""Builds a week: searches, judges every better plan, explains what is left out."""

import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from threading import Lock

from dispatch.planner.bound import lower_bound
from dispatch.planner.cost import cost, in_plan
from dispatch.planner.explain import explain
from dispatch.planner.plan import Plan, Tow, Unplaced
from dispatch.planner.problem import InvalidProblem, Problem
from dispatch.planner.rules import judge
from dispatch.planner.solve.mends import mends
from dispatch.planner.solve.search import Limits, Search
from dispatch.planner.solve.start import Start
from dispatch.planner.ways import possible_ways


@dataclass(frozen=True, kw_only=True, slots=True)
class Effort:
    """How long to look: seconds and perhaps steps; how many walk at once; `stop` ends it early."""

    seconds: float
    seed: int = 0
    steps: int | None = None
    workers: int = 1
    stop: Callable[[], bool] = lambda: False


Progress = Callable[[Mapping[str, object]], None]
Keep = Callable[[Plan], None]
# Seconds that explaining may take when somebody stopped the search.
_STOPPED_SECONDS = 0.5


class Build:
    """One search for one problem, on the clock."""

    def __init__(
        self,
        problem: Problem,
        effort: Effort,
        tell: Progress,
        keep: Keep = lambda _plan: None,
    ) -> None:
        """`keep` is handed the best plan, not explained yet, as soon as somebody stops the search."""
        self.problem, self.effort, self.tell, self.keep = problem, effort, tell, keep
        self.began = time.monotonic()
        self.bound = lower_bound(problem)
        self.best: Plan | None = None
        self.fault = ""
        self._one_at_a_time = Lock()
        limits = Limits(
            seed=effort.seed,
            steps=effort.steps,
            done=self.along,
            workers=effort.workers,
            seconds=effort.seconds,
        )
        self.search = Search(problem, limits, self.accept)

    def along(self) -> float:
        """Return the share of the time that is used, 1 when told to stop."""
        if self.effort.stop():
            return 1.0
        return (time.monotonic() - self.began) / max(0.001, self.effort.seconds)

    def accept(self, plan: Plan) -> bool:
        """Judge a plan; keep it when it breaks no rule and costs less than the best."""
        plan = self._priced(replace(plan, unplaced=self._left_out(plan)))
        faults = judge(self.problem, plan)
        if faults:
            self.fault = self.fault or faults[0]
            return False
        with self._one_at_a_time:
            if self.best is None or plan.cost["total"] < self.best.cost["total"]:
                self.best = plan
                self.report("search")
        return True

    def _priced(self, plan: Plan) -> Plan:
        return replace(plan, cost=cost(self.problem, plan))

    def _left_out(self, plan: Plan) -> tuple[Unplaced, ...]:
        seen = plan.visits()
        return tuple(
            Unplaced(stage=s.id, code="no-room", why="Not explained yet.")
            for s in self.problem.stages.values()
            if in_plan(s, plan.chosen) and s.id not in seen
        )

    def report(self, phase: str) -> None:
        """Tell how far the search is."""
        cents = self.best.cost["total"] if self.best else None
        self.tell(
            {
                "phase": phase,
                "cost": cents,
                "bound": self.bound,
                "steps": self.search.steps,
            }
        )

    def run(self, start: Start) -> Plan:
        """Return the best plan found, explained; InvalidProblem when nothing fixed can be kept."""
        self.report("start")
        if start.van_days and self._known(start):
            # What was handed in stands unless something cheaper is found.
            self.accept(Plan(van_days=tuple(start.van_days), chosen=dict(start.chosen)))
            self.fault = ""
        self.search.run(start)
        if self.best is None:
            raise InvalidProblem(
                f"What is frozen or pinned cannot be kept together: {self.fault}"
            )
        return self._explained(self.best)

    def _known(self, start: Start) -> bool:
        """Whether the van-days handed in speak of this week's vans, people, stages and trailers."""
        problem = self.problem
        named = problem.stages.keys() | problem.trailers.keys()
        return all(
            vd.van in problem.vans
            and problem.people.keys() >= set(vd.team)
            and all(
                (stop.trailer if isinstance(stop, Tow) else stop.stage) in named
                for stop in vd.stops
            )
            for vd in start.van_days
        )

    def _explained(self, plan: Plan) -> Plan:
        self.report("explain")
        # Who stopped the search still wants to know why; a stop from now on ends this too.
        stopped = self.effort.stop()
        if stopped:
            self.keep(replace(plan, bound=min(self.bound, plan.cost["total"])))
        seconds = min(1 + self.effort.seconds / 20, self.effort.seconds / 4)
        seconds = _STOPPED_SECONDS if stopped else seconds
        until = time.monotonic() + seconds

        def enough() -> bool:
            told = not stopped and self.effort.stop()
            return told or time.monotonic() > until

        found, plan = plan, self._priced(possible_ways(self.problem, plan))
        ways = dict(plan.chosen.items() - found.chosen.items())
        priced = self.search.cents_to_add(ways, enough)
        left_out = explain(
            self.problem,
            plan,
            priced,
            lambda stages: mends(self.problem, plan, stages, enough),
        )
        plan = replace(plan, unplaced=left_out)
        bound = min(self.bound, plan.cost["total"])
        self.report("done")
        return replace(plan, bound=bound)
