"""A week problem with its plan, taken apart for tests that spoil one or the other."""

import copy
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from itertools import pairwise

from dispatch.planner.plan import read_plan
from dispatch.planner.read import read_problem
from dispatch.planner.rules import judge
from tests.planner.weeks import faults, outside

# Adds `by` minutes, people or units too many to what is told: none at 0, one at 1.
Spoil = Callable[["Told", int], None]


class Unfit(LookupError):  # noqa: N818 - it reads as what it is
    """Nothing in this week could be spoilt so."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Kind:
    """A kind of spoiling, and words of the sentence each judge has for it."""

    spoil: Spoil
    ours: str
    theirs: str

    @property
    def name(self) -> str:
        """Return the kind's name in words."""
        return self.spoil.__name__.replace("_", " ")


class Kinds(list[Kind]):
    """Kinds of spoiling, in the order they are written."""

    def __call__(self, ours: str, theirs: str) -> Callable[[Spoil], Spoil]:
        """Return what enters a function among the kinds."""

        def enter(spoil: Spoil) -> Spoil:
            self.append(Kind(spoil=spoil, ours=ours, theirs=theirs))
            return spoil

        return enter


class Told:
    """A copy of a problem and its plan, with what the spoils look up; only free van-days are offered."""

    def __init__(self, problem: dict, plan: dict) -> None:
        self.problem, self.plan = copy.deepcopy(problem), copy.deepcopy(plan)
        rows = ("people", "vans", "trailers", "stages", "jobs")
        self.person, self.van, self.trailer, self.stage, self.job = (
            {row["id"]: row for row in self.problem[key]} for key in rows
        )
        held = {(f["van"], f["day"]) for f in self.problem["frozen"]}
        self.days = [
            vd for vd in self.plan["van_days"] if (vd["van"], vd["day"]) not in held
        ]

    def stops(self, do: str) -> list[tuple[dict, dict]]:
        """Return each free van-day's visits or tows, with the van-day."""
        return [
            (vd, stop) for vd in self.days for stop in vd["stops"] if stop["do"] == do
        ]

    def visits(self) -> list[tuple[dict, dict, dict]]:
        """Return each free visit with its van-day and its stage."""
        return [(vd, s, self.stage[s["stage"]]) for vd, s in self.stops("visit")]

    def all_visits(self) -> list[tuple[dict, dict, dict]]:
        """Return each visit, frozen or free."""
        everyday = self.plan["van_days"]
        return [
            (vd, s, self.stage[s["stage"]])
            for vd in everyday
            for s in vd["stops"]
            if s["do"] == "visit"
        ]

    def boat(self, stage: dict) -> str:
        """Return whose stage it is."""
        return self.job[stage["job"]]["boat"]

    def legs(self) -> Iterator[tuple[dict, str, str, int, int]]:
        """Yield every leg of every van-day: van-day, from, to, free, start."""
        for vd in self.plan["van_days"]:
            base = self.van[vd["van"]]["base"]
            points = [(base, base, vd["depart"], vd["depart"])]
            points += [(*self.ends(s), s["start"], s["end"]) for s in vd["stops"]]
            points.append((base, base, vd["back"], vd["back"]))
            for (_, here, _, free), (there, _, start, _) in pairwise(points):
                yield vd, here, there, free, start

    def ends(self, stop: dict) -> tuple[str, str]:
        """Return the places where a stop begins and ends."""
        if stop["do"] == "tow":
            return stop["from"], stop["to"]
        return (self.stage[stop["stage"]]["place"],) * 2

    def afters(self) -> Iterator[tuple[dict, dict, dict, dict, dict]]:
        """Yield each wait between two visits: the wait, then van-day and visit after and before."""
        seen = {stop["stage"]: (vd, stop) for vd, stop, _ in self.all_visits()}
        for vd, stop, stage in self.visits():
            for wait in stage["after"]:
                if wait["stage"] in seen:
                    yield (wait, vd, stop, *seen[wait["stage"]])

    def restated(self) -> "Told":
        """State the costs anew by the outside judge, so that only what was spoilt is wrong."""
        check = outside("check_week")
        with suppress(check.Unreadable):
            self.plan["cost"] = check.Check(self.problem, self.plan).run()[1]
        return self

    def verdicts(self) -> tuple[list[str], list[str]]:
        """Return what the house's judge and the outside judge find."""
        ours = judge(read_problem(self.problem), read_plan(self.plan))
        return ours, faults(self.problem, self.plan)


def first(rows: Iterator) -> object:
    """Return the first row, or say that the week does not fit."""
    for row in rows:
        return row
    raise Unfit
