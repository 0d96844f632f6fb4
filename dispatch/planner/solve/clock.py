"""Times a van-day: as soon as possible, then as late a departure as keeps the return."""

from typing import NamedTuple

from dispatch.planner.problem import lag_minutes
from dispatch.planner.solve.sheet import Sheet
from dispatch.planner.solve.spans import FAR, first_from, last_until

Rest = tuple[int, int]


class Hours(NamedTuple):
    """When the team may be out, the break's rule, and what is done already."""

    opens: int
    closes: int
    rest_minutes: int
    rest_after: int
    rest_window: tuple[int, int]
    # An open van-day under way: its fixed times and departure, and its break if taken.
    done: tuple[tuple[int, int], ...] = ()
    depart: int | None = None
    rest: Rest | None = None
    now: int = 0


class Clock:
    """One timing of one sheet, with the break at `host`: 2i before stop i, 2i+1 in it, or -1."""

    __slots__ = (
        "floor",
        "host",
        "hours",
        "rest",
        "sheet",
        "starts",
        "times",
        "too_far",
    )

    def __init__(self, sheet: Sheet, hours: Hours, host: int) -> None:
        self.sheet, self.hours, self.host = sheet, hours, host
        self.floor: dict[int, int] = {}
        self.times: list[tuple[int, int]] = []
        self.rest: Rest | None = None
        self.too_far: tuple[int, int] | None = None
        self.starts = list(sheet.starts)
        if host > 0 and host % 2 == 1:
            i = host // 2
            longer = sheet.minutes[i] + hours.rest_minutes
            self.starts[i] = sheet.allowed(i, longer)

    def forward(self, depart: int) -> int | None:
        """Time the stops as soon as possible; return the minute back, or None."""
        for _ in range(4):
            back = self._pass(depart)
            if back is not None or self.too_far is None:
                return back
            stop, minute = self.too_far
            self.floor[stop] = max(minute, self.floor.get(stop, 0) + 1)
        return None

    def _pass(self, depart: int) -> int | None:
        done = self.hours.done
        self.too_far = None
        self.times = list(done)
        self.rest = self.hours.rest
        free = done[-1][1] if done else depart
        for i in range(len(done), len(self.starts)):
            earliest = self._gap(i, free)
            if earliest is None or (placed := self._stop(i, earliest)) is None:
                return None
            self.times.append(placed)
            free = placed[1]
        return self._gap(len(self.starts), free)

    def _gap(self, i: int, free: int) -> int | None:
        """Return the earliest arrival at stop `i` (or at base), the break taken if it is here."""
        drive = self.sheet.drives[i]
        if self.host != 2 * i:
            return self._round(i, free)
        minutes, (opens, closes) = self.hours.rest_minutes, self.hours.rest_window
        least = max(opens, self.hours.now) if self.hours.depart is not None else opens
        start = max(free + drive, least)
        if start + minutes <= closes:
            self.rest = (start, start + minutes)
            return start + minutes
        start = max(free, least)
        if start + minutes <= closes:
            self.rest = (start, start + minutes)
            return start + minutes + drive
        return None

    def _round(self, i: int, free: int) -> int:
        """Drive on; a break already fixed after the last thing done is not cut into."""
        drive, rest = self.sheet.drives[i], self.hours.rest
        at = free + drive
        if rest is not None and free <= rest[0] < at:
            at = rest[1] + drive
        elif rest is not None and free <= rest[0]:
            at = max(at, rest[1])
        return at

    def _stop(self, i: int, earliest: int) -> tuple[int, int] | None:
        earliest = max(earliest, self.floor.get(i, 0), self.hours.now)
        latest = FAR
        for j, low, high in self.sheet.ties[i]:
            end = self.times[j][1]
            least = lag_minutes(low, end)
            most = FAR if high is None else lag_minutes(high, end)
            if least is None or most is None:
                return None
            earliest, latest = max(earliest, end + least), min(latest, end + most)
        inside = self.host == 2 * i + 1
        minutes = self.sheet.minutes[i] + (self.hours.rest_minutes if inside else 0)
        if inside:
            earliest = max(earliest, self.hours.rest_window[0] - self.sheet.minutes[i])
        start = first_from(self.starts[i], earliest)
        if start is None:
            return None
        if start > latest:
            self._late(i, start)
            return None
        if inside and not self._pause(start, start + minutes):
            return None
        return start, start + minutes

    def _late(self, i: int, start: int) -> None:
        """Ask for the earlier stop to begin later, so that this one is not too long after it."""
        for j, _, high in self.sheet.ties[i]:
            begin, end = self.times[j]
            most = None if high is None else lag_minutes(high, end)
            if most is not None and start > end + most and j >= len(self.hours.done):
                self.too_far = (j, start - most - (end - begin))

    def _pause(self, start: int, end: int) -> bool:
        opens, closes = self.hours.rest_window
        at = max(start, opens)
        self.rest = (at, at + self.hours.rest_minutes)
        return self.rest[1] <= min(end, closes)

    def latest_depart(self, back: int) -> int:
        """Return the latest departure from which the return stays at `back`, or a safe one."""
        limits = [FAR] * len(self.times)
        arrive = back
        for i in range(len(self.times) - 1, -1, -1):
            start, end = self.times[i]
            leave = min(self._leave(i + 1, arrive), limits[i])
            latest = last_until(self.starts[i], leave - (end - start))
            if self.host == 2 * i + 1 and latest is not None:
                latest = min(
                    latest, self.hours.rest_window[1] - self.hours.rest_minutes
                )
            arrive = start if latest is None or latest < start else latest
            for j, low, _ in self.sheet.ties[i]:
                longest = low if isinstance(low, int) else max(row[2] for row in low)
                limits[j] = min(limits[j], arrive - longest)
        return self._leave(0, arrive)

    def _leave(self, i: int, arrive: int) -> int:
        """Return the latest minute to set off towards stop `i` so as to be there by `arrive`."""
        drive = self.sheet.drives[i]
        if self.host != 2 * i:
            return arrive - drive
        minutes, (opens, closes) = self.hours.rest_minutes, self.hours.rest_window
        start = min(arrive - drive - minutes, closes - minutes)
        if start >= opens:
            return start
        return min(arrive - minutes, closes - minutes) - drive
