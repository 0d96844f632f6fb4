"""How long a van-day works and drives, how far: what a block added to it cannot make less."""

from dispatch.planner.core.chain import comes_from, comes_to
from dispatch.planner.core.jit import fast
from dispatch.planner.core.lags import tow_minutes, trailer_of
from dispatch.planner.core.shapes import Given, Week


@fast
def measure(given: Given, week: Week, r: int) -> None:
    """Write a van-day's minutes of work and of road, its metres, and its stops kept as told."""
    route, base = week.routes[r], given.vans[r % given.n_vans].base
    day = r // given.n_vans
    at, work, road, metres, kept = base, 0, 0, 0, 0
    for i in range(route.count):
        stop = route.stop[i]
        if stop < 0:
            origin, to = comes_from(week, stop), comes_to(week, stop)
            work += tow_minutes(given, trailer_of(stop), origin, to)
            metres += given.metres[origin, to]
        else:
            stage = given.stages[stop]
            origin = to = stage.place
            work += max(0, stage.minutes[route.size])
            kept += stage.told >= 0 and stage.told_day == day
        road += given.drive[at, origin]
        metres += given.metres[at, origin]
        at = to
    route.work, route.kept = work, kept
    route.road = road + given.drive[at, base]
    route.metres = metres + given.metres[at, base]


@fast
def measure_all(given: Given, week: Week) -> None:
    """Measure every van-day of a week laid from outside."""
    for r in range(week.n_routes):
        measure(given, week, r)
