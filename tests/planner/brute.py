"""The cheapest plan of a tiny week, by trying every one: the witness for searches and floors.

Every choice of variants, teams, orders, moves of trailers, breaks and whole-minute times is tried
(`outings`). What is valid and what it costs is asked of the outside judge (`tests/bench/outside`);
nothing is shared with the planner. Days of a dozen minutes, a few van-days and stages take seconds.
"""

from collections.abc import Iterator
from itertools import product

from tests.planner.outings import legs, outings
from tests.planner.weeks import outside

PARTS = ("wages", "vans", "late", "finish", "risk", "dropped", "moved", "total")
# Van-days are priced in parts of a cent in which wages by the minute and metres are whole.
FINE = 60_000
# Seven parts are rounded one by one, each by half a cent at most.
SLACK = 4


def cheapest(problem: dict) -> dict | None:
    """Return a plan (contract JSON with costs) that none undercuts; None when none is valid."""
    return _Brute(problem).run()


class _Brute:
    """All plans of one problem, and the best so far."""

    def __init__(self, problem: dict) -> None:
        self.problem = problem
        self.judge = outside("check_week")
        self.best: dict | None = None
        ways = {
            job["id"]: job["variants"][0] for job in problem["jobs"] if job["variants"]
        }
        self.check = self.judge.Check(problem, self.plan((), ways))

    def run(self) -> dict | None:
        days = range(len(self.problem["days"]))
        slots = [self.of_a_van(v["id"], d) for v in self.problem["vans"] for d in days]
        varied = [job for job in self.problem["jobs"] if job["variants"]]
        for ways in product(*(job["variants"] for job in varied)):
            chosen = {job["id"]: way for job, way in zip(varied, ways, strict=True)}
            for van_days, spent in self.weeks(slots, (), 0):
                self.consider(self.plan(van_days, chosen), spent)
        return self.best

    def consider(self, plan: dict, spent: int) -> None:
        """Take the plan as the best when it is valid and cheaper."""
        if self.over(spent + FINE * self.dropped(plan), SLACK):
            return
        priced = self.judge.Check(self.problem, plan)
        for van_day in plan["van_days"]:
            priced.van_day(van_day)
        plan["cost"] = priced.cost()
        if not self.over(FINE * plan["cost"]["total"], 0):
            faults, _ = self.judge.Check(self.problem, plan).run()
            self.best = self.best if faults else plan

    def over(self, fine: int, slack: int) -> bool:
        """Whether so much money is no less than the best total and some cents."""
        best = self.best
        return best is not None and fine >= FINE * (best["cost"]["total"] + slack)

    def weeks(self, slots: list, given: tuple, spent: int) -> Iterator[tuple]:
        """Yield each way to give the vans' days an outing or none, nobody and nothing twice."""
        if self.over(spent, SLACK):
            return
        if not slots:
            yield given, spent
            return
        for option, price in slots[0]:
            if option is None:
                yield from self.weeks(slots[1:], given, spent)
            elif not any(clash(option, other) for other in given):
                yield from self.weeks(slots[1:], (*given, option), spent + price)

    def plan(self, van_days: tuple, chosen: dict) -> dict:
        seen = set().union(*map(visited, van_days))
        out = [
            {"stage": stage["id"], "code": "no-room", "why": "Left out."}
            for stage in self.problem["stages"]
            if stage["variant"] in (None, chosen.get(stage["job"]))
            and stage["id"] not in seen
        ]
        plan = {"format": "week-plan/2", "van_days": list(van_days), "chosen": chosen}
        return plan | {
            "unplaced": out,
            "cost": dict.fromkeys(PARTS, 0),
            "bound": None,
        }

    def dropped(self, plan: dict) -> int:
        out = [self.check.stages[row["stage"]] for row in plan["unplaced"]]
        short = {stage["job"] for stage in out if not stage["extra"]}
        unfinished = sum(self.check.jobs[job]["unfinished_cents"] for job in short)
        return unfinished + sum(stage["drop_cents"] for stage in out)

    def of_a_van(self, van: str, day: int) -> list[tuple[dict | None, int]]:
        """Return a van's valid days with their prices; of those with the same stops the cheapest."""
        frozen = [
            f for f in self.problem["frozen"] if (f["van"], f["day"]) == (van, day)
        ]
        if frozen and not frozen[0].get("open"):
            return [(frozen[0], self.price(frozen[0]))]
        least: dict[tuple, tuple[dict, int]] = {}
        for outing in outings(self.check, van, day, frozen):
            key, price = (*outing["team"], repr(outing["stops"])), self.price(outing)
            if (key not in least or price < least[key][1]) and self.sound(outing):
                least[key] = (outing, price)
        # Busy and cheap first: a good week early cuts off most of the others.
        rows = sorted(least.values(), key=lambda row: (-len(row[0]["stops"]), row[1]))
        return rows if frozen else [*rows, (None, 0)]

    def sound(self, outing: dict) -> bool:
        self.check.faults, self.check.visits = [], {}
        self.check.van_day(outing)
        return not self.check.faults

    def price(self, outing: dict) -> int:
        """Return regular wages, van and kilometres, in FINE parts of a cent."""
        check, rest = self.check, outing["break"] or (0, 0)
        paid = outing["back"] - outing["depart"] - (rest[1] - rest[0])
        van = check.vans[outing["van"]]
        at, metres = van["base"], 0
        for to in [*(to for stop in outing["stops"] for to in legs(check, stop)), at]:
            metres, at = metres + check.metre(at, to), to
        rates = sum(check.people[who]["cents_per_hour"] for who in outing["team"])
        driven = 60 * van["cents_per_km"] * metres
        return 1000 * paid * rates + FINE * van["cents_per_day"] + driven


def clash(one: dict, other: dict) -> bool:
    """Whether somebody rides twice a day, or a stage is visited twice."""
    rides = one["day"] == other["day"] and set(one["team"]) & set(other["team"])
    return bool(rides or visited(one) & visited(other))


def visited(outing: dict) -> set:
    return {stop["stage"] for stop in outing["stops"] if stop["do"] == "visit"}
