"""The limits of one van's day drawn tight around a plan: met exactly at 0, passed by one at 1."""

from collections import Counter, defaultdict

from tests.planner.told import Kinds, Told, first

TIGHT_DAYS = kind = Kinds()
HOURS = ("the duty of", "leaves the duty")


@kind("lies in none of its windows", "in none of its windows")
def starts_before_its_window(told: Told, by: int) -> None:
    _, stop, stage = first(told.visits())
    stage["windows"] = [[stop["start"] + by, stop["end"]]]


@kind("lies in none of its windows", "in none of its windows")
def ends_after_its_window(told: Told, by: int) -> None:
    _, stop, stage = first(told.visits())
    stage["windows"] = [[stop["start"], stop["end"] - by]]


@kind(*HOURS)
def leaves_before_a_person_is_on_duty(told: Told, by: int) -> None:
    vd = first(told.days)
    told.person[vd["team"][0]]["duty"][vd["day"]][0] = vd["depart"] + by


@kind(*HOURS)
def returns_after_a_person_is_on_duty(told: Told, by: int) -> None:
    vd = first(told.days)
    told.person[vd["team"][-1]]["duty"][vd["day"]][1] = vd["back"] - by


@kind(*HOURS)
def leaves_before_the_van_may(told: Told, by: int) -> None:
    vd = first(told.days)
    told.van[vd["van"]]["duty"][vd["day"]][0] = vd["depart"] + by


@kind(*HOURS)
def returns_after_the_van_may(told: Told, by: int) -> None:
    vd = first(told.days)
    told.van[vd["van"]]["duty"][vd["day"]][1] = vd["back"] - by


@kind("the duty of the day", "leaves its day")
def returns_after_the_day(told: Told, by: int) -> None:
    last = len(told.problem["days"]) - 1
    backs = [vd["back"] for vd in told.days if vd["day"] == last]
    told.problem["days"][last][1] = max(first([backs])) - by


@kind("people in", "seats")
def has_a_person_too_many(told: Told, by: int) -> None:
    days = sorted(told.plan["van_days"], key=lambda vd: -len(vd["team"]))
    vd = first(days)
    told.van[vd["van"]]["seats"] = len(vd["team"]) - by


def measured(told: Told) -> dict[tuple[str, str], list[tuple[int, int]]]:
    """Return, for each pair of places never towed between, each leg's room and its room beside a break."""
    towed = {(s["from"], s["to"]) for _, s in told.stops("tow")}
    found = defaultdict(list)
    for vd, here, there, free, start in told.legs():
        room, rest = start - free, vd["break"]
        within = rest is not None and free <= rest[0] and rest[1] <= start
        beside = max(rest[0] - free, start - rest[1]) if within else room
        if (here, there) not in towed and here != there:
            found[here, there].append((room, beside))
    return found


def drive_takes(told: Told, pair: tuple[str, str], minutes: int) -> None:
    places = [place["id"] for place in told.problem["places"]]
    here, there = map(places.index, pair)
    told.problem["drive_min"][here][there] = minutes


@kind("minutes for the", "min drive")
def has_a_minute_too_few_for_a_drive(told: Told, by: int) -> None:
    legs = measured(told).items()
    whole = (pair for pair, rooms in legs if all(a == b for a, b in rooms))
    pair = first(whole)
    drive_takes(told, pair, min(a for a, _ in measured(told)[pair]) + by)


@kind("cuts a drive", "cuts the drive")
def breaks_within_a_drive(told: Told, by: int) -> None:
    legs = measured(told).items()
    cut = (
        (pair, min(b for _, b in rooms))
        for pair, rooms in legs
        if min(b for _, b in rooms) < min(a for a, _ in rooms)
    )
    pair, beside = first(cut)
    drive_takes(told, pair, beside + by)


@kind("does not last", "has the wrong length")
def breaks_too_short(told: Told, by: int) -> None:
    told.problem["break"]["minutes"] += by


@kind("leaves its window", "outside its window")
def breaks_too_early(told: Told, by: int) -> None:
    vd = first(vd for vd in told.plan["van_days"] if vd["break"])
    rest = min(
        o["break"]
        for o in told.plan["van_days"]
        if o["break"] and o["day"] == vd["day"]
    )
    told.problem["break"]["windows"][vd["day"]][0] = rest[0] + by


@kind("leaves its window", "outside its window")
def breaks_too_late(told: Told, by: int) -> None:
    vd = first(vd for vd in told.plan["van_days"] if vd["break"])
    ends = [
        o["break"][1]
        for o in told.plan["van_days"]
        if o["break"] and o["day"] == vd["day"]
    ]
    told.problem["break"]["windows"][vd["day"]][1] = max(ends) - by


def away(told: Told, *, with_break: bool) -> list[int]:
    days = told.plan["van_days"]
    found = [
        vd["back"] - vd["depart"] for vd in days if bool(vd["break"]) is with_break
    ]
    return first([found] if found else [])


@kind("minutes with the break None", "break is None")
def has_no_break_when_one_is_due(told: Told, by: int) -> None:
    told.problem["break"]["after_min"] = max(away(told, with_break=False)) - by


@kind("minutes with the break (", "break is [")
def has_a_break_when_none_is_due(told: Told, by: int) -> None:
    told.problem["break"]["after_min"] = min(away(told, with_break=True)) - 1 + by


@kind("must last", "must last")
def lasts_a_minute_too_short(told: Told, by: int) -> None:
    _, _, stage = first(told.visits())
    stage["minutes"] = {size: m + by for size, m in stage["minutes"].items()}


@kind("needs a team of", "needs ")
def is_a_person_too_few_for_a_visit(told: Told, by: int) -> None:
    vd, _, stage = first(told.visits())
    size = len(vd["team"])
    fit = max(int(n) for n in stage["minutes"] if int(n) <= size)
    stage["minutes"] = {str(size + by): stage["minutes"][str(fit)]}


@kind("of 3 with", "of 3 with")
def has_one_too_few_with_a_skill(told: Told, by: int) -> None:
    vd, _, stage = first(row for row in told.visits() if len(row[0]["team"]) == 3 - by)
    for member in vd["team"]:
        told.person[member]["skills"]["varnish"] = 1
    stage["needs"] = [{"skill": "varnish", "level": 1, "count": 3}]


@kind("has 0 of 1 with varnish 3", "0 of 1 with varnish>=3")
def has_a_skill_at_too_low_a_level(told: Told, by: int) -> None:
    vd, _, stage = first(told.visits())
    told.person[vd["team"][0]]["skills"]["varnish"] = 3 - by
    stage["needs"] = [{"skill": "varnish", "level": 3, "count": 1}]


@kind("needed,", "on board, carries")
def carries_a_unit_too_few(told: Told, by: int) -> None:
    loads = Counter()
    for vd, _, stage in told.all_visits():
        loads[vd["van"], vd["day"]] += stage["supplies"].get("water_l", 0)
    (van, _), most = first(loads.most_common(1))
    told.van[van]["carries"]["water_l"] = most - by
