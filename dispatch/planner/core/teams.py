"""Who may ride together and do what; whom to try."""

from dispatch.planner.core.jit import fast
from dispatch.planner.core.shapes import Given, Ints, Room, Rows, Week

POOL = 9


@fast
def able(given: Given, team: Ints, size: int, stage: int) -> bool:
    """Whether a team is big enough for a stage, skilled enough and not barred from it."""
    row = given.stages[stage]
    if row.minutes[size] < 0:
        return False
    can = 0
    for k in range(size):
        can |= given.people[team[k]].can
        if row.bars != 0 and given.barred[stage, team[k]] != 0:
            return False
    if can & row.wants != row.wants:
        return False
    if row.counts == 0:
        return True
    for n in range(row.needs[0], row.needs[1]):
        need, have = given.needs[n], 0
        for k in range(size):
            if given.people[team[k]].level[need.skill] >= need.level:
                have += 1
        if have < need.count:
            return False
    return True


@fast
def able_all(given: Given, team: Ints, size: int, slots: Rows, count: int) -> bool:
    """Whether a team may do every stage of a van-day."""
    for i in range(count):
        if slots[i].stop >= 0 and not able(given, team, size, slots[i].stop):
            return False
    return True


@fast
def may_ride(given: Given, team: Ints, size: int) -> bool:
    """Whether these people may be one team: a driver, nobody kept apart, nobody alone who may not be."""
    if size == 0 or (size == 1 and given.people[team[0]].not_alone != 0):
        return False
    drivers = 0
    for k in range(size):
        drivers += given.people[team[k]].driver
        for m in range(k):
            if given.apart[team[k], team[m]] != 0:
                return False
    return drivers > 0


@fast
def rate_of(given: Given, team: Ints, size: int) -> float:
    """Return a team's cents a minute."""
    total = 0.0
    for k in range(size):
        total += given.people[team[k]].rate
    return total


@fast
def is_free(given: Given, week: Week, day: int, person: int) -> bool:
    """Whether a person is on duty that day and rides nowhere yet."""
    return week.busy[day, person] == 0 and given.people[person].on[day] >= 0


@fast
def gather(
    given: Given, week: Week, room: Room, day: int, slots: Rows, count: int
) -> int:
    """Write the free people worth trying for these stages into the pool; return how many."""
    found = 0
    for i in range(given.n_people):
        person = given.cheapest[i]
        if is_free(given, week, day, person) and not _barred(
            given, person, slots, count
        ):
            room.pool[found] = person
            found += 1
    if found <= POOL:
        return found
    return _thin(given, room, found, slots, count)


@fast
def _barred(given: Given, person: int, slots: Rows, count: int) -> bool:
    for i in range(count):
        if slots[i].stop >= 0 and given.barred[slots[i].stop, person] != 0:
            return True
    return False


@fast
def _thin(given: Given, room: Room, found: int, slots: Rows, count: int) -> int:
    """Keep of many people the cheapest for each need, and drivers, in order of their rate."""
    kept = 0
    for i in range(found):
        person = room.pool[i]
        if kept < POOL and (i < 2 or _wanted(given, room, kept, person, slots, count)):
            room.pool[kept] = person
            kept += 1
    return kept


@fast
def _wanted(
    given: Given, room: Room, kept: int, person: int, slots: Rows, count: int
) -> bool:
    """Whether a person serves a need that fewer than count + 1 of those kept serve."""
    drivers = 0
    for k in range(kept):
        drivers += given.people[room.pool[k]].driver
    if given.people[person].driver != 0 and drivers < 2:
        return True
    for i in range(count):
        if slots[i].stop < 0:
            continue
        row = given.stages[slots[i].stop]
        for n in range(row.needs[0], row.needs[1]):
            need, have = given.needs[n], 0
            if given.people[person].level[need.skill] < need.level:
                continue
            for k in range(kept):
                if given.people[room.pool[k]].level[need.skill] >= need.level:
                    have += 1
            if have < need.count + 1:
                return True
    return False
