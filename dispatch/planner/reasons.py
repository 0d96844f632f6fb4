"""What rules a stage out whatever else is planned: proven, or not said."""

from collections.abc import Iterator

from dispatch.planner.problem import Need, Person, Problem, Stage, Van

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
    vans = [v for v in problem.vans.values() if _equipped(stage, v)]
    if not vans:
        gear = ", ".join(sorted(stage.gear)) or "no special gear"
        size = min(stage.minutes)
        return "no-van", f"No van has {size} seats and carries {gear}."
    return (
        _trailer(problem, stage)
        or _supplies(stage, vans)
        or _people(problem, stage, vans)
    )


def _equipped(stage: Stage, van: Van) -> bool:
    return stage.gear <= van.gear and van.seats >= min(stage.minutes)


def _trailer(problem: Problem, stage: Stage) -> Reason | None:
    kinds = {t.kind for t in problem.trailers.values()}
    lacks = [need.kind for need in stage.trailers if need.kind not in kinds]
    return ("no-trailer", f"The outfit has no {lacks[0]}.") if lacks else None


def _supplies(stage: Stage, vans: list[Van]) -> Reason | None:
    for supply, amount in sorted(stage.supplies.items()):
        most = max(v.carries.get(supply, 0) for v in vans)
        if most < amount:
            return (
                "no-supplies",
                f"It needs {_amount(amount, supply)}; a fit van carries {_amount(most, supply)}.",
            )
    return None


def _people(problem: Problem, stage: Stage, vans: list[Van]) -> Reason | None:
    """Return the reason when no day has the people, or none is long enough for the drive."""
    days = [d for d in range(len(problem.days)) if _window_on(problem, stage, d)]
    staffed = [d for d in days if _staffed(problem, stage, d)]
    if not staffed:
        size = min(stage.minutes)
        wants = [_wanted(need) for need in stage.needs]
        team = " and ".join([f"a team of {size} with a driver", *wants])
        return (
            "no-team",
            f"It has windows on {_days(len(days))}, and on none is {team} on duty; change the duty hours.",
        )
    if any(_fits(problem, stage, van, d) for van in vans for d in staffed):
        return None
    quickest = min(stage.minutes.values())
    drive = min(_round_trip(problem, stage, van) for van in vans)
    return (
        "out-of-reach",
        f"Its {quickest} minutes and the {drive} minutes of driving do not fit its windows and anyone's day.",
    )


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


def _window_on(problem: Problem, stage: Stage, day: int) -> bool:
    first, last = problem.days[day]
    quickest = min(stage.minutes.values())
    spans = ((max(s, first, problem.now), min(e, last)) for s, e in stage.windows)
    return any(end - start >= quickest for start, end in spans)


def _hands(problem: Problem, stage: Stage, day: int) -> Iterator[Person]:
    for person in problem.people.values():
        if person.duty[day] is not None and person.id not in stage.barred:
            yield person


def _staffed(problem: Problem, stage: Stage, day: int) -> bool:
    """Whether enough people are on duty, counted need by need."""
    hands = list(_hands(problem, stage, day))
    if len(hands) < min(stage.minutes) or not any(p.driver for p in hands):
        return False
    return all(
        sum(p.skills.get(n.skill, 0) >= n.level for p in hands) >= n.count
        for n in stage.needs
    )


def _round_trip(problem: Problem, stage: Stage, van: Van) -> int:
    there = problem.drive_min[van.base][stage.place]
    return there + problem.drive_min[stage.place][van.base]


def _fits(problem: Problem, stage: Stage, van: Van, day: int) -> bool:
    """Whether the visit and both drives fit, with the longest duty anybody has that day."""
    duty = van.duty[day]
    if duty is None:
        return False
    hands = [p.duty[day] for p in _hands(problem, stage, day)]
    opens = max(duty[0], problem.now, min(d[0] for d in hands if d))
    closes = min(duty[1], max(d[1] for d in hands if d))
    there = problem.drive_min[van.base][stage.place]
    home = problem.drive_min[stage.place][van.base]
    quickest = min(stage.minutes.values())
    for start, end in stage.windows:
        begin = max(start, opens + there, problem.days[day][0])
        if begin + quickest <= min(end, closes - home):
            return True
    return False
