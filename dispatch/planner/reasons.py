"""What rules a stage out whatever else is planned: proven, or not said."""

from dispatch.planner.alone import short_by, windows_on
from dispatch.planner.formable import Call, held
from dispatch.planner.problem import Minutes, Need, Problem, Stage, Trailer, Van

Reason = tuple[str, str]


def why_never(problem: Problem, stage: Stage) -> Reason | None:
    """Return (code, sentence) when no van, day and team could do the stage; else None."""
    quickest = min(stage.minutes.values())
    longest = max((e - s for s, e in stage.windows), default=0)
    if longest < quickest:
        return (
            "no-window",
            f"Its longest window is {longest} minutes; the quickest team needs {quickest}.",
        )
    geared = [v for v in problem.vans.values() if stage.gear <= v.gear]
    size = min(stage.minutes)
    if not any(v.seats >= size for v in geared):
        gear = ", ".join(sorted(stage.gear)) or "no special gear"
        return "no-van", f"No van has {size} seats and carries {gear}."
    return (
        _trailer(problem, stage)
        or _supplies(stage, geared)
        or _people(problem, stage, [v for v in geared if _carries(v, stage)])
    )


def _trailer(problem: Problem, stage: Stage) -> Reason | None:
    """Return the reason when a kind it needs is not owned, or cannot be brought to its place."""
    pulled = any(v.tows for v in problem.vans.values())
    for need in stage.trailers:
        kind = [t for t in problem.trailers.values() if t.kind == need.kind]
        if not kind:
            return "no-trailer", f"The outfit has no {need.kind}."
        if not any(_comes(problem, t, stage.place, pulled=pulled) for t in kind):
            return (
                "no-trailer",
                f"No {need.kind} stands at its place, and no van tows one there.",
            )
    return None


def _comes(problem: Problem, trailer: Trailer, place: int, *, pulled: bool) -> bool:
    """Whether a trailer stands at a place, may be brought there, or has been."""
    if trailer.place == place or pulled or not trailer.towed:
        return bool(problem.vans) or trailer.place == place
    return any(
        stop.get("trailer") == trailer.id and stop["to"] == problem.places[place]
        for van_day in problem.frozen
        for stop in van_day["stops"]
    )


def _carries(van: Van, stage: Stage) -> bool:
    return all(van.carries.get(k, 0) >= amount for k, amount in stage.supplies.items())


def _supplies(stage: Stage, vans: list[Van]) -> Reason | None:
    """Return the reason when no van with the gear carries all that it needs at once."""
    if any(_carries(van, stage) for van in vans):
        return None
    for supply, amount in sorted(stage.supplies.items()):
        most = max(v.carries.get(supply, 0) for v in vans)
        if most < amount:
            return (
                "no-supplies",
                f"It needs {_amount(amount, supply)}; a fit van carries {_amount(most, supply)}.",
            )
    needs = " and ".join(_amount(n, k) for k, n in sorted(stage.supplies.items()))
    return "no-supplies", f"It needs {needs}; no fit van carries all of it at once."


def _people(problem: Problem, stage: Stage, vans: list[Van]) -> Reason | None:
    """Return the reason when no team has the hours, or none the way there and back as well."""
    days = [d for d in range(len(problem.days)) if windows_on(problem, stage, d)]
    if not days:
        return "out-of-reach", _gone_by(problem, stage)
    staffed = [d for d in days if _staffed(problem, stage, d, vans)]
    if not staffed:
        return "no-team", _no_team(problem, stage, vans, len(days))
    short: list[tuple[int, int]] = []
    for day in staffed:
        if any(_reached(problem, stage, (van, day), short) for van in vans):
            return None
    return "out-of-reach", _too_far(problem, stage, vans, short)


def _staffed(problem: Problem, stage: Stage, day: int, vans: list[Van]) -> bool:
    """Whether a team can be formed that has a window's minutes on duty together, drives aside."""
    windows = windows_on(problem, stage, day)

    def fits(hours: Minutes, size: int) -> bool:
        minutes = problem.minutes_for(stage, size)
        return minutes is not None and any(
            min(e, hours[1]) - max(s, hours[0]) >= minutes for s, e in windows
        )

    seats = max(van.seats for van in vans)
    return Call(
        problem=problem, stage=stage, day=day, seats=seats, fits=fits
    ).answered()


def _reached(
    problem: Problem, stage: Stage, at: tuple[Van, int], short: list[tuple[int, int]]
) -> bool:
    """Whether a team with that van that day does it and is back; else note what it lacks."""

    def fits(hours: Minutes, size: int) -> bool:
        lacks = short_by(problem, stage, at, (hours, size))
        if lacks is not None and lacks > 0:
            short.append((lacks, at[1]))
        return lacks is not None and lacks <= 0

    van, day = at
    call = Call(problem=problem, stage=stage, day=day, seats=van.seats, fits=fits)
    return call.answered()


def _gone_by(problem: Problem, stage: Stage) -> str:
    last = max(end for _, end in stage.windows)
    if last <= problem.now:
        return f"Its last window closed {problem.now - last} minutes ago."
    return "None of its windows lies in a day of this week that is still to come."


def _no_team(problem: Problem, stage: Stage, vans: list[Van], days: int) -> str:
    """Say what nobody can form: the first need too few people hold, or the team as a whole."""
    people = [p for p in problem.people.values() if p.id not in stage.barred]
    for need in stage.needs:
        have = held(people, need.skill, need.level)
        if have < need.count:
            rest = " not barred from it" if stage.barred else ""
            return f"It needs {_wanted(need)}; the outfit has {have}{rest}."
    size, most = min(stage.minutes), max(van.seats for van in vans)
    if most < size:
        return f"It needs a team of {size}; the van that can carry its things seats {most}."
    wants = [_wanted(need) for need in stage.needs]
    team = " and ".join([f"a team of {size} with a driver", *wants])
    least = min(stage.minutes.values())
    return (
        f"It has windows on {_days(days)}, and on none can {team} be formed "
        f"for its {least} minutes; change the duty hours."
    )


def _too_far(
    problem: Problem, stage: Stage, vans: list[Van], short: list[tuple[int, int]]
) -> str:
    quickest = min(stage.minutes.values())
    drive = min(_round_trip(problem, stage, van) for van in vans)
    told = f"Its {quickest} minutes and the {drive} minutes of driving do not fit its windows and anyone's day"
    if not short:
        return f"{told}."
    lacks, day = min(short)
    return f"{told}; day {day + 1} comes nearest and is at least {lacks} minutes short."


def _days(count: int) -> str:
    return "1 day" if count == 1 else f"{count} days"


def _amount(count: int, supply: str) -> str:
    """Return an amount with its unit, which ends the supply's name: 300 of water_l is 300 l of water."""
    name, _, unit = supply.rpartition("_")
    return f"{count} {unit} of {name}" if name else f"{count} {supply}"


def _wanted(need: Need) -> str:
    level = f" at level {need.level}" if need.level > 1 else ""
    people = "person" if need.count == 1 else "people"
    return f"{need.count} {people} with {need.skill}{level}"


def _round_trip(problem: Problem, stage: Stage, van: Van) -> int:
    there = problem.drive_min[van.base][stage.place]
    return there + problem.drive_min[stage.place][van.base]
