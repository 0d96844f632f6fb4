"""Tries a block with one more in the team, another in a member's place, or a new team."""

from dispatch.planner.core.dice import pick
from dispatch.planner.core.jit import fast
from dispatch.planner.core.places import any_place, try_places
from dispatch.planner.core.shapes import (
    FAR,
    SEATS,
    Given,
    Room,
    Week,
)
from dispatch.planner.core.sketch import road_inside, work_minutes
from dispatch.planner.core.teams import able_all, gather, is_free, may_ride, rate_of
from dispatch.planner.core.tried import beaten, duty_of, note, wages_of

TRIED_PEOPLE = 4  # free people tried beside a team, or in a member's place


@fast
def one_more(
    given: Given,
    week: Week,
    room: Room,
    count: int,
    many: int,
    r: int,
    eager: float,
    best: float,
) -> float:
    """Try the block with each of a few free people beside the team."""
    day, size, tried = r // given.n_vans, week.routes[r].size, 0
    if not any_place(given, week, room, count, many, r, size + 1):
        return best
    about = week.routes[r].work + week.routes[r].road
    people = given.n_people
    first = pick(week.dice, people)
    for k in range(people):
        person = (first + k) % people
        if not is_free(given, week, day, person):
            continue
        room.team[size] = person
        cents = wages_of(given, week, room, size + 1, about)
        duty = duty_of(given, room, size + 1, day)
        if beaten(room, tried, duty, cents):
            continue
        if _team_fits(given, room, count, many, size + 1):
            best = try_places(given, week, room, count, many, r, size + 1, eager, best)
            tried = note(room, tried, duty, cents)
            if tried >= TRIED_PEOPLE:
                break
    return best


@fast
def swapped(
    given: Given,
    week: Week,
    room: Room,
    count: int,
    many: int,
    r: int,
    eager: float,
    best: float,
) -> float:
    """Try the block with each of a few free people in the place of a member."""
    day, route, tried = r // given.n_vans, week.routes[r], 0
    if not any_place(given, week, room, count, many, r, route.size):
        return best
    people = given.n_people
    first = pick(week.dice, people)
    for k in range(people):
        person = (first + k) % people
        if not is_free(given, week, day, person):
            continue
        for out in range(route.size):
            room.team[out] = person
            if _team_fits(given, room, count, many, route.size):
                best = try_places(
                    given, week, room, count, many, r, route.size, eager, best
                )
                tried += 1
            room.team[out] = route.team[out]
        if tried >= TRIED_PEOPLE:
            break
    return best


@fast
def _team_fits(given: Given, room: Room, count: int, many: int, size: int) -> bool:
    return (
        may_ride(given, room.team, size)
        and able_all(given, room.team, size, room.more, many)
        and able_all(given, room.team, size, room.asis, count)
    )


@fast
def new_teams(
    given: Given,
    week: Week,
    room: Room,
    many: int,
    r: int,
    eager: float,
    best: float,
) -> float:
    """Try teams of the pool in an empty van-day, the small and cheap ones first."""
    day, van = r // given.n_vans, r % given.n_vans
    row = given.vans[van]
    road = road_inside(given, room.more, many)
    road += given.drive[row.base, room.more[0].origin]
    road += given.drive[room.more[many - 1].site, row.base]
    if (
        row.on[day] < 0
        or _floor(given, room, many, road, row.seats) + row.day_cents >= best
    ):
        return best
    pool = gather(given, week, room, day, room.more, many)
    index = room.list
    for size in range(1, min(pool, row.seats, SEATS) + 1):
        work = work_minutes(given, room.more, many, size)
        if work < 0:
            continue
        tried = 0
        for k in range(size):
            index[k] = k
        while True:
            for k in range(size):
                room.team[k] = room.pool[index[k]]
            rate = rate_of(given, room.team, size)
            if rate * (road + work) + row.day_cents < best:
                if may_ride(given, room.team, size) and able_all(
                    given, room.team, size, room.more, many
                ):
                    cents = wages_of(given, week, room, size, road + work)
                    duty = duty_of(given, room, size, day)
                    if not beaten(room, tried, duty, cents):
                        best = try_places(
                            given, week, room, 0, many, r, size, eager, best
                        )
                        tried = note(room, tried, duty, cents)
            k = size - 1
            while k >= 0 and index[k] == pool - size + k:
                k -= 1
            if k < 0:
                break
            index[k] += 1
            for m in range(k + 1, size):
                index[m] = index[m - 1] + 1
    return best


@fast
def _floor(given: Given, room: Room, many: int, road: int, seats: int) -> float:
    """Return the least wages of a new van-day: of the teams big enough, with the cheapest people there are."""
    least, rate = FAR * 1.0, 0.0
    for size in range(1, min(seats, given.n_people, SEATS) + 1):
        rate += given.people[given.cheapest[size - 1]].rate
        work = work_minutes(given, room.more, many, size)
        if work >= 0:
            least = min(least, rate * (road + work))
    return least
