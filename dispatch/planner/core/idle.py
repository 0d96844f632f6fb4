"""Paid waiting in van-days, which work put in later may fill."""

from dispatch.planner.core.jit import fast
from dispatch.planner.core.price import paid_minutes
from dispatch.planner.core.shapes import Given, Room, Week
from dispatch.planner.core.teams import rate_of


@fast
def idle_cents(given: Given, week: Week, r: int) -> float:
    """Return the wages of a van-day's waiting."""
    route = week.routes[r]
    minutes = route.paid - route.work - route.road
    return rate_of(given, route.team, route.size) * max(0, minutes)


@fast
def all_idle_cents(given: Given, week: Week) -> float:
    """Return the wages of all waiting in a week."""
    total = 0.0
    for r in range(week.n_routes):
        if week.routes[r].count > 0:
            total += idle_cents(given, week, r)
    return total


@fast
def forgiven(
    given: Given, week: Week, room: Room, total: int, r: int, rate: float
) -> float:
    """Return the cents of new waiting, in the van-day timed last, that are not counted yet."""
    if room.patience == 0.0 or week.routes[r].lock != 0:
        return 0.0
    minutes = paid_minutes(given, room) - room.tried[total].drive
    for i in range(total):
        minutes -= room.tried[i].minutes + room.tried[i].drive
    return room.patience * max(0.0, rate * minutes - idle_cents(given, week, r))
