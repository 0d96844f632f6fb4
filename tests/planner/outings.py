"""Every day out of one van, by trying all teams, orders, moves, breaks and minutes.

Many of them break some rule: the outside judge throws those out; whom it would not send whatever they do, and what
a van cannot tow, is not tried. None that is valid is missing, but for dearer ones with the same stops.
"""

from collections.abc import Iterator
from itertools import combinations, product


def legs(check: object, stop: dict) -> list[str]:
    """Return the places a stop takes the van to, in order."""
    if stop["do"] == "visit":
        return [check.stages[stop["stage"]]["place"]]
    return [stop["from"], stop["to"]]


def outings(check: object, van: str, day: int, frozen: list) -> Iterator[dict]:
    """Yield van-days (contract JSON); `frozen` holds the one under way that they go on, if any."""
    rule = check.p["break"]
    rests = [None, *breaks(rule, day)] if rule else [None]
    people = [p["id"] for p in check.p["people"] if p["duty"][day] is not None]
    sizes = range(1, check.vans[van]["seats"] + 1)
    teams = [list(team) for size in sizes for team in combinations(people, size)]
    for held in frozen:
        teams = [held["team"]]
        rests = [held["break"]] if held["break"] else rests
    for team, rest in product(teams, rests):
        fixed = {"van": van, "day": day, "team": team, "break": rest}
        outing = _Outing(check, fixed, frozen)
        if outing.may_go():
            yield from outing.all()


def breaks(rule: dict, day: int) -> Iterator[list]:
    low, high = rule["windows"][day]
    for start in range(low, high - rule["minutes"] + 1):
        yield [start, start + rule["minutes"]]


class _Outing:
    """One team in one van on one day, with one break or none."""

    def __init__(self, check: object, fixed: dict, frozen: list) -> None:
        self.check, self.fixed, self.frozen = check, fixed, frozen
        van, day = check.vans[fixed["van"]], fixed["day"]
        duties = [check.people[who]["duty"][day] for who in fixed["team"]]
        duties += [van["duty"][day], check.p["days"][day]]
        on = all(duties)
        self.base = van["base"]
        self.low = max(duty[0] for duty in duties) if on else 0
        self.high = min(duty[1] for duty in duties) if on else -1
        if not frozen:
            self.low = max(self.low, check.p["now"])

    def may_go(self) -> bool:
        """Whether the judge finds nothing wrong with the team itself, home again as soon as it left."""
        self.check.faults = []
        self.check.team("", self.fixed | {"depart": self.low, "back": self.low})
        return bool(self.frozen) or not self.check.faults

    def all(self) -> Iterator[dict]:
        stops, at, free = [], self.base, self.low
        for held in self.frozen:
            stops, free = list(held["stops"]), held["depart"]
        if stops:
            at, free = legs(self.check, stops[-1])[-1], stops[-1]["end"]
        for whole in self.longer(stops, at, free):
            yield from self.timed(whole)

    def longer(self, stops: list, at: str, free: int) -> Iterator[list]:
        """Yield the stops so far, and with every other after them."""
        if stops or self.frozen:
            yield stops
        for stop in [*self.visits(stops, at, free), *self.moves(at, free)]:
            end = legs(self.check, stop)[-1]
            yield from self.longer([*stops, stop], end, stop["end"])

    def visits(self, stops: list, at: str, free: int) -> Iterator[dict]:
        seen = {stop.get("stage") for stop in stops}
        size = len(self.fixed["team"])
        for name, stage in self.check.stages.items():
            fit = [int(n) for n in stage["minutes"] if int(n) <= size]
            if name not in seen and fit:
                since = max(free + self.check.drive(at, stage["place"]), self.since())
                yield from self.starts(stage, since, stage["minutes"][str(max(fit))])

    def since(self) -> int:
        return self.check.p["now"] if self.frozen else 0

    def starts(self, stage: dict, since: int, minutes: int) -> Iterator[dict]:
        rest = self.fixed["break"] or (0, 0)
        for start, pause in product(range(since, self.high), {0, rest[1] - rest[0]}):
            end = start + minutes + pause
            held = any(s <= start and end <= e for s, e in stage["windows"])
            if held and end <= self.high:
                row = {"do": "visit", "stage": stage["id"]}
                yield row | {"start": start, "end": end}

    def moves(self, at: str, free: int) -> Iterator[dict]:
        pairs = [(a, b) for a, b in product(self.check.place, repeat=2) if a != b]
        tows = self.check.vans[self.fixed["van"]]["tows"]
        able = [t for t, row in self.check.trailers.items() if tows or not row["towed"]]
        for trailer, (origin, to) in product(able, pairs):
            minutes = self.check.tow_minutes(trailer, origin, to)
            since = max(free + self.check.drive(at, origin), self.since())
            for start in range(since, self.high - minutes + 1):
                row = {"do": "tow", "trailer": trailer, "from": origin, "to": to}
                yield row | {"start": start, "end": start + minutes}

    def timed(self, stops: list) -> Iterator[dict]:
        """Yield the stops with every departure and return, or the tightest where no break is ever due."""
        first = self.base if not stops else legs(self.check, stops[0])[0]
        last = self.base if not stops else legs(self.check, stops[-1])[-1]
        begin = stops[0]["start"] if stops else self.high
        leave = range(self.low, begin - self.check.drive(self.base, first) + 1)
        if self.frozen:
            leave = [self.frozen[0]["depart"]]
        over = stops[-1]["end"] if stops else leave[0]
        home = range(over + self.check.drive(last, self.base), self.high + 1)
        if self.check.p["break"] is None:
            leave, home = leave[-1:], home[:1]
        for depart, back in product(leave, home):
            yield self.fixed | {"depart": depart, "back": back, "stops": stops}
