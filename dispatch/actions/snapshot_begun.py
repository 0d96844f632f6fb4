"""What has left of a standing week as a week problem has it: frozen van-days, and the stages in them eased.

What happened wins over what was planned: a stage that was done or begun is as long as it took, and what
it needed is not asked again. Times that reports leave no room for are put right by the drives between.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from dispatch.actions import begun, snapshot_trailers
from dispatch.actions.begun import Left, Stay
from dispatch.actions.snapshot_breaks import rest_of, taken
from dispatch.actions.snapshot_trailers import Settled
from dispatch.actions.timeline import Timeline
from dispatch.records.models import Tow, Week

Row = dict[str, Any]
_ROUND = timedelta(seconds=59)


def laid_over(problem: Row, line: Timeline, week: Week) -> Row:
    """The problem of what is left of a standing week; the same where nothing of it has left yet."""
    left = begun.of(week)
    if not left:
        return problem
    found = problem | {
        name: [dict(row) for row in problem[name]]
        for name in ("stages", "jobs", "boats", "people", "vans", "trailers")
    }
    settled = snapshot_trailers.settled(found, line, left)
    days = _Days(problem=found, line=line, now=found["now"])
    rows = [row for one in left if (row := days.laid(one, settled.moves))]
    _eased(found, settled, left, rows)
    for stop in (stop for row in rows for stop in row["stops"]):
        del stop["at"]
    return found | {"frozen": rows}


@dataclass(frozen=True, kw_only=True)
class _Days:
    """Lays van-days that have left into a problem, one by one."""

    problem: Row
    line: Timeline
    now: int

    def laid(self, left: Left, kept: frozenset[int]) -> Row | None:
        """A frozen van-day, or None where the week knows its van or people no more, or it did nothing."""
        van = _named(self.problem["vans"], left.day.van.key)
        team = sorted(person.key for person in left.day.team.all())
        people = [_named(self.problem["people"], name) for name in team]
        stops = list(self._stops(left, kept))
        if van is None or None in people or not (stops or left.out):
            return None
        day = self.line.dates.index(left.day.on)
        depart, free = self._timed(van, day, self.line.minute(left.day.depart), stops)
        home = free + self._drive(_end(stops) or van["base"], van["base"])
        row: Row = {"van": van["id"], "day": day, "team": team, "depart": depart}
        row["stops"] = stops
        planned = self._planned(left)
        if left.out:
            back = max(home, self.line.minute(left.day.back) if planned else home)
            row |= {"open": True, "back": home}
            rest = taken(self.problem, row | {"back": back}, self._drive, planned)
            row["break"] = rest
        else:
            back = max(home, self.line.minute(left.day.back))
            row |= {"back": min(back, self.line.days[day][1])}
            row["break"] = rest_of(self.problem, row, self._drive, planned)
        ends = home if left.out else row["back"]
        for holder in (van, *(person for person in people if person)):
            holder["duty"] = _widened(holder["duty"], day, depart, ends)
        return row

    def _stops(self, left: Left, kept: frozenset[int]) -> Iterator[Row]:
        rows: list[Row] = [self._visit(stay) for stay in left.stays]
        rows += [self._tow(tow) for tow in left.tows if tow.pk in kept]
        yield from sorted(rows, key=lambda row: row["start"])

    def _visit(self, stay: Stay) -> Row:
        place = stay.stage.job.boat.place.key
        return {
            "do": "visit",
            "stage": stay.name,
            "start": self.line.minute(stay.span.start),
            "end": self.line.minute(stay.span.end + _ROUND),
            "at": (place, place),
        }

    def _tow(self, tow: Tow) -> Row:
        origin, to = tow.origin.key, tow.destination.key
        thing = _named(self.problem["trailers"], tow.equipment.key) or {}
        drive = -(-self._drive(origin, to) * thing["factor_pct"] // 100)
        start = self.line.minute(tow.start)
        length = thing["hook_min"] + drive + thing["unhook_min"]
        stop = {"do": "tow", "trailer": thing["id"], "from": origin, "to": to}
        return stop | {"start": start, "end": start + length, "at": (origin, to)}

    def _timed(
        self, van: Row, day: int, depart: int, stops: list[Row]
    ) -> tuple[int, int]:
        """Put stops right by the drives between them; return when the van left and when it was free."""
        here, first = van["base"], stops[:1]
        if first:
            depart = min(
                depart, first[0]["start"] - self._drive(here, first[0]["at"][0])
            )
        free = depart = max(depart, self.line.days[day][0])
        for stop in stops:
            start = max(stop["start"], free + self._drive(here, stop["at"][0]))
            tow = stop["end"] - stop["start"]
            stop["end"] = (
                start + tow if stop["do"] == "tow" else max(stop["end"], start + 1)
            )
            stop["start"], free, here = start, stop["end"], stop["at"][1]
        return depart, free

    def _drive(self, origin: str, to: str) -> int:
        keys = [place["id"] for place in self.problem["places"]]
        return int(self.problem["drive_min"][keys.index(origin)][keys.index(to)])

    def _planned(self, left: Left) -> list[int] | None:
        start, end = left.day.break_start, left.day.break_end
        return (
            [self.line.minute(start), self.line.minute(end)] if start and end else None
        )


def _end(stops: Sequence[Row]) -> str:
    return str(stops[-1]["at"][1]) if stops else ""


def _named(rows: Iterable[Row], key: str) -> Row | None:
    return next((row for row in rows if row["id"] == key), None)


def _widened(duty: list[Any], day: int, start: int, end: int) -> list[Any]:
    """Duties that hold what happened: who came early, stayed late or is to be brought home was out all the same."""
    own = duty[day] or [start, end]
    wide = [min(own[0], start), max(own[1], end)]
    return [wide if number == day else span for number, span in enumerate(duty)]


def _eased(
    found: Row, settled: Settled, left: Sequence[Left], frozen: Sequence[Row]
) -> None:
    """Have each frozen stage be as long as it took, ask nothing of it, and let what follows wait for it."""
    stays = {stay.name: stay for one in left for stay in one.stays}
    known = {row["id"]: row for row in found["stages"]}
    visits = [
        (day, stop) for day in frozen for stop in day["stops"] if stop["do"] == "visit"
    ]
    for day, stop in visits:
        stay = stays[stop["stage"]]
        row = known.get(stay.name)
        if row is None:
            row = known[stay.name] = _gone(found, stay)
            found["stages"].append(row)
        row |= _as_it_was(settled, stay, stop, day)
    stops = [stop for _, stop in visits]
    over = [
        *_longest_over(known, stays, stops),
        *snapshot_trailers.over_covered(settled, stays, stops),
    ]
    for name, need in over:
        boat = stays[name].stage.job.boat.key
        hers = [one for one in stops if stays[one["stage"]].stage.job.boat.key == boat]
        kept = _Hers(
            boat=boat,
            rows={one["stage"]: known[one["stage"]] for one in hers},
            spans={one["stage"]: (one["start"], one["end"]) for one in hers},
        )
        _kept_over(found, kept, name, need)


def _longest_over(
    known: Mapping[str, Row], stays: Mapping[str, Stay], stops: Sequence[Row]
) -> list[tuple[str, Row]]:
    """Of the visits that keep a thing of a kind by a boat the one that keeps it longest: one roof is over all her sides."""
    longest: dict[tuple[str, str], tuple[int, str, Row]] = {}
    for stop in stops:
        name = stop["stage"]
        for need in known[name]["trailers"]:
            hers = (stays[name].stage.job.boat.key, need["kind"])
            until = stop["end"] + need["stays_min"]
            if hers not in longest or until > longest[hers][0]:
                longest[hers] = (until, name, need)
    return [(name, need) for _, name, need in longest.values()]


@dataclass(frozen=True, kw_only=True)
class _Hers:
    """A boat's visits that have left: their rows, and their minutes."""

    boat: str
    rows: Mapping[str, Row]
    spans: Mapping[str, tuple[int, int]]


def _kept_over(found: Row, kept: _Hers, name: str, need: Row) -> None:
    """Keep a roof over a boat whose film is wet, as her own where the times allow it: her other visits may be under it."""
    for row in kept.rows.values():
        row["trailers"] = [r for r in row["trailers"] if r["kind"] != need["kind"]]
    kept.rows[name]["trailers"].append(need)
    start, end = kept.spans[name]
    beside = any(
        since < end and start < until
        for other, (since, until) in kept.spans.items()
        if other != name
    )
    if beside or all(row["id"] != kept.boat for row in found["boats"]):
        return
    for job in found["jobs"]:
        if job["id"] == f"{name}.done":
            job["boat"] = kept.boat


def _gone(found: Row, stay: Stay) -> Row:
    """A stage that is done: of a job and a boat of its own, so that it binds nothing but van and team."""
    name = f"{stay.name}.done"
    found["boats"].append({"id": name})
    found["jobs"].append(
        {
            "id": name,
            "boat": name,
            "promise": None,
            "late_cents_per_hour": 0,
            "finish_cents_per_hour": 0,
            "unfinished_cents": 0,
            "variants": [],
        }
    )
    return {
        "id": stay.name,
        "job": name,
        "variant": None,
        "extra": False,
        "exposed": False,
        "place": stay.stage.job.boat.place.key,
        "risk": [],
        "hold_min": 0,
        "drop_cents": 0,
    }


def _as_it_was(settled: Settled, stay: Stay, stop: Row, day: Row) -> Row:
    rest, length = day["break"], stop["end"] - stop["start"]
    paused = bool(rest and stop["start"] <= rest[0] and rest[1] <= stop["end"])
    length -= rest[1] - rest[0] if paused else 0
    return {
        "minutes": {str(len(day["team"])): max(1, length)},
        "needs": [],
        "barred": [],
        "gear": [],
        "supplies": {},
        "windows": [[stop["start"], stop["end"]]],
        "pausable": True,
        "trailers": snapshot_trailers.over_film(settled, stay, stop),
        "after": [],
        "pinned": None,
    }
