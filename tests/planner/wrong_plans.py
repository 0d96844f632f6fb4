"""Plans that go wrong in one way each, whatever the limits; `by` is not asked."""

import copy

from tests.planner.told import Kinds, Told, first

WRONG = kind = Kinds()
SPLIT = "cuts a drive, a tow or a visit"


@kind("visited or listed as left out 2 times", "visited twice")
def visits_a_stage_twice(told: Told, by: int) -> None:
    one, two = told.days[0], told.days[-1]
    stop = copy.deepcopy(first(s for s in one["stops"] if s["do"] == "visit"))
    two["stops"].append(stop)


@kind("visited or listed as left out 0 times", "visited 0 and unplaced 0 times")
def forgets_a_stage(told: Told, by: int) -> None:
    told.plan["unplaced"].remove(first(told.plan["unplaced"]))


@kind("visited or listed as left out 2 times", "visited 1 and unplaced 1 times")
def lists_a_visited_stage_as_left_out(told: Told, by: int) -> None:
    stage = first(told.visits())[2]["id"]
    told.plan["unplaced"].append({"stage": stage, "code": "no-room", "why": "So."})


@kind("visited or listed as left out 2 times", "visited 0 and unplaced 2 times")
def lists_a_stage_twice(told: Told, by: int) -> None:
    told.plan["unplaced"].append(first(told.plan["unplaced"]))


@kind("without a known code and a reason", "without a known code and a reason")
def leaves_out_for_a_code_nobody_knows(told: Told, by: int) -> None:
    first(told.plan["unplaced"])["code"] = "tired"


@kind("without a known code and a reason", "without a known code and a reason")
def leaves_out_without_a_reason(told: Told, by: int) -> None:
    first(told.plan["unplaced"])["why"] = "  "


def stage_left_out(told: Told, code: str) -> dict:
    """Give the first stage left out another code; no other stage keeps one of its own."""
    for row in told.plan["unplaced"]:
        row["code"] = "no-room"
    row = first(told.plan["unplaced"])
    row["code"] = code
    return told.stage[row["stage"]]


@kind("for no-window, which is not so", "no-window is not so")
def says_no_window_is_long_enough_when_one_is(told: Told, by: int) -> None:
    stage = stage_left_out(told, "no-window")
    stage["windows"] = [[0, min(stage["minutes"].values())]]


@kind("for no-van, which is not so", "no-van is not so")
def says_no_van_has_the_gear_when_one_has(told: Told, by: int) -> None:
    stage = stage_left_out(told, "no-van")
    told.problem["vans"][0] |= {"gear": stage["gear"], "seats": 9}


@kind("for no-supplies, which is not so", "no-supplies is not so")
def says_no_van_carries_enough_when_one_does(told: Told, by: int) -> None:
    stage = stage_left_out(told, "no-supplies")
    told.problem["vans"][0] |= {"gear": stage["gear"], "carries": stage["supplies"]}


@kind("for no-trailer, which is not so", "no-trailer is not so")
def says_a_trailer_is_missing_that_nobody_needs(told: Told, by: int) -> None:
    stage_left_out(told, "no-trailer")["trailers"] = []


@kind("for waits-for, which is not so", "waits-for is not so")
def says_it_waits_for_what_is_done(told: Told, by: int) -> None:
    stage_left_out(told, "waits-for")["after"] = []


@kind("for job-blocked, which is not so", "job-blocked is not so")
def says_its_job_is_blocked_when_it_is_not(told: Told, by: int) -> None:
    stage = stage_left_out(told, "job-blocked")
    told.plan["unplaced"] = [
        row
        for row in told.plan["unplaced"]
        if row["stage"] == stage["id"]
        or told.stage[row["stage"]]["job"] != stage["job"]
    ]


@kind("visited or listed as left out 1 times, must be 0", "part of plan 0")
def visits_a_way_that_was_not_chosen(told: Told, by: int) -> None:
    job = first(
        told.job[stage["job"]]
        for _, _, stage in told.visits()
        if stage["variant"] and len(told.job[stage["job"]]["variants"]) > 1
    )
    now = told.plan["chosen"][job["id"]]
    told.plan["chosen"][job["id"]] = first(w for w in job["variants"] if w != now)


@kind("which it does not offer", "no variant chosen")
def chooses_a_way_there_is_not(told: Told, by: int) -> None:
    told.plan["chosen"][first(told.plan["chosen"])] = "sideways"


@kind("is pinned but not visited", "pinned but not visited")
def does_not_visit_what_is_pinned(told: Told, by: int) -> None:
    stage = told.stage[first(told.plan["unplaced"])["stage"]]
    vd = first(told.days)
    stage["windows"], stage["gear"] = [[0, 10**5]], []
    stage["pinned"] = {"van": vd["van"], "start": vd["depart"] + 60}


@kind("is pinned to van", "not where it is pinned")
def sends_another_van_than_the_pin_says(told: Told, by: int) -> None:
    vd, stop, stage = first(told.visits())
    other = first(
        v["id"]
        for v in told.problem["vans"]
        if v["id"] != vd["van"] and v["duty"][vd["day"]]
    )
    stage["gear"], stage["windows"] = [], [[0, 10**5]]
    stage["pinned"] = {"van": other, "start": stop["start"]}


@kind("may ride in one only", "rides 2 times")
def has_one_person_in_two_vans(told: Told, by: int) -> None:
    one, two = first(
        (a, b)
        for a in told.days
        for b in told.days
        if a["van"] != b["van"] and a["day"] == b["day"]
    )
    two["team"][0] = one["team"][0]


@kind("is sent out 2 times", "appears 2 times")
def sends_a_van_twice_a_day(told: Told, by: int) -> None:
    vd = first(vd for vd in told.days if len(vd["stops"]) > 1)
    told.plan["van_days"].append(copy.deepcopy(vd) | {"stops": [vd["stops"].pop()]})


@kind("names a person twice", "names a person twice")
def has_a_person_twice_in_a_team(told: Told, by: int) -> None:
    team = first(told.days)["team"]
    team.append(team[0])


@kind("nobody in the team drives", "no driver")
def has_nobody_who_drives(told: Told, by: int) -> None:
    for who in first(told.days)["team"]:
        told.person[who]["driver"] = False


@kind("may not work alone", "may not work alone")
def leaves_a_trainee_alone(told: Told, by: int) -> None:
    vd = first(vd for vd in told.days if len(vd["team"]) == 1)
    told.person[vd["team"][0]]["not_alone"] = True


@kind("are kept apart", "are kept apart")
def puts_together_who_are_kept_apart(told: Told, by: int) -> None:
    team = first(vd["team"] for vd in told.days if len(vd["team"]) > 1)
    told.problem["apart"].append(team[1::-1])


@kind("is barred from", "is barred from it")
def has_somebody_do_what_bars_them(told: Told, by: int) -> None:
    vd, _, stage = first(told.visits())
    stage["barred"].append(vd["team"][-1])


@kind("is off duty", "is off duty")
def has_somebody_work_on_a_day_off(told: Told, by: int) -> None:
    vd = first(told.days)
    told.person[vd["team"][0]]["duty"][vd["day"]] = None


@kind("is off duty", "is off duty")
def sends_a_van_that_is_off_the_road(told: Told, by: int) -> None:
    vd = first(told.days)
    told.van[vd["van"]]["duty"][vd["day"]] = None


@kind("which the van lacks", "lacks crane")
def goes_without_the_gear(told: Told, by: int) -> None:
    first(told.visits())[2]["gear"].append("crane")


@kind("with juggling", "with juggling")
def goes_without_the_skill(told: Told, by: int) -> None:
    need = {"skill": "juggling", "level": 1, "count": 1}
    first(told.visits())[2]["needs"].append(need)


@kind(SPLIT, "clashes with")
def breaks_within_work_that_cannot_pause(told: Told, by: int) -> None:
    stage = first(
        stage
        for vd, stop, stage in told.visits()
        if vd["break"] and stop["start"] <= vd["break"][0] < stop["end"]
    )
    stage["pausable"] = False


@kind(SPLIT, "")
def breaks_half_within_a_visit(told: Told, by: int) -> None:
    vd, stop, _ = first(row for row in told.visits() if row[0]["break"])
    length = told.problem["break"]["minutes"]
    vd["break"] = [stop["end"] - 1, stop["end"] - 1 + length]


@kind(SPLIT, "break during a tow")
def breaks_within_a_tow(told: Told, by: int) -> None:
    vd, tow = first((vd, t) for vd, t in told.stops("tow") if vd["break"])
    length = told.problem["break"]["minutes"]
    vd["break"] = [tow["start"] + 1, tow["start"] + 1 + length]


@kind("but stands at", "towed from")
def tows_a_trailer_to_where_it_is_then_not(told: Told, by: int) -> None:
    _, tow = first(told.stops("tow"))
    tow["from"], tow["to"] = tow["to"], tow["from"]


@kind("is not as it stands", "is not as it stands")
def alters_what_is_frozen(told: Told, by: int) -> None:
    first(f for f in told.problem["frozen"] if not f.get("open"))["back"] += 1


@kind("is missing", "is not as it stands")
def leaves_out_what_is_frozen(told: Told, by: int) -> None:
    held = first(told.problem["frozen"])
    told.problem["frozen"].append(held | {"day": len(told.problem["days"]) - 1})
    told.plan["van_days"] = [
        vd
        for vd in told.plan["van_days"]
        if (vd["van"], vd["day"]) != (held["van"], len(told.problem["days"]) - 1)
    ]


@kind("does not go on from what was done", "does not go on from what is frozen")
def changes_the_team_of_a_day_under_way(told: Told, by: int) -> None:
    first(f for f in told.problem["frozen"] if f.get("open"))["team"].reverse()
    first(f for f in told.problem["frozen"] if f.get("open"))["depart"] -= 1


@kind("does not go on from what was done", "does not go on from what is frozen")
def undoes_a_stop_of_a_day_under_way(told: Told, by: int) -> None:
    held = first(f for f in told.problem["frozen"] if f.get("open") and f["stops"])
    held["stops"][0]["end"] += 1


@kind("does not go on from what was done", "does not go on from what is frozen")
def moves_a_break_that_was_taken(told: Told, by: int) -> None:
    held = first(f for f in told.problem["frozen"] if f.get("open"))
    held["break"] = [held["depart"], held["depart"] + 30]
