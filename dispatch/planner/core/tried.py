"""Which teams need no trying: one as long on duty was tried, and costs no more."""

from dispatch.planner.core.jit import fast
from dispatch.planner.core.price import wages
from dispatch.planner.core.shapes import FAR, TEAMS, Given, Room, Week


@fast
def wages_of(given: Given, week: Week, room: Room, size: int, minutes: int) -> float:
    """Return the cents that so many minutes more would pay the team in `room.team`."""
    total = 0.0
    for k in range(size):
        person = room.team[k]
        paid = week.paid[person]
        total += wages(given, paid + minutes, person) - wages(given, paid, person)
    return total


@fast
def duty_of(given: Given, room: Room, size: int, day: int) -> tuple[int, int]:
    """Return from when until when all of the team in `room.team` are on duty."""
    on, off = 0, FAR
    for k in range(size):
        person = given.people[room.team[k]]
        on, off = max(on, person.on[day]), min(off, person.off[day])
    return on, off


@fast
def beaten(room: Room, tried: int, duty: tuple[int, int], cents: float) -> bool:
    """Whether one of the teams tried is on duty as long and costs no more."""
    for k in range(min(tried, TEAMS)):
        if room.hired[k] <= cents:
            if room.duty[k, 0] <= duty[0] and room.duty[k, 1] >= duty[1]:
                return True
    return False


@fast
def note(room: Room, tried: int, duty: tuple[int, int], cents: float) -> int:
    """Remember a team that was tried, as long as there is room; return how many were."""
    if tried < TEAMS:
        room.duty[tried, 0], room.duty[tried, 1] = duty
        room.hired[tried] = cents
    return tried + 1
