"""The witness itself, against weeks worked out by hand."""

from tests.planner.brute import cheapest
from tests.planner.weeks import faults, tiny, with_stage

DUTY = [[0, 14]]


def dozen(**changes):
    """Return a week of one day of fourteen minutes: two people, a van, drives of a minute or two."""
    week = tiny(days=[[0, 24]], drive_min=[[0, 1, 2], [1, 0, 1], [2, 1, 0]])
    for row in week["people"] + week["vans"]:
        row["duty"] = DUTY
    week["break"] = None
    return week | changes


def job(week, name, where, sizes, **changes):
    week = with_stage(week, name, where, sizes, **({"windows": DUTY} | changes))
    week["jobs"][-1]["finish_cents_per_hour"] = 60
    return week


def test_one_job_by_hand():
    # One person: 1 min there, 4 on site, 1 back = 6 min at 50 cents = 300. The van 4000, 30 km at 50 cents
    # = 1500. Done at minute 5, a cent a minute. Two people: 2 x 4 min x 50 = 400, done at 3: dearer.
    plan = cheapest(job(dozen(), "A", "quay", {"1": 4, "2": 2}))
    assert plan["cost"]["total"] == 300 + 4000 + 1500 + 5


def test_leaving_it_costs_less_by_hand():
    # 12 km more, and nothing gained: left out it costs 500 + 5000, and the day's 24 cents.
    week = job(dozen(), "A", "dock", {"1": 9})
    week["jobs"][0]["unfinished_cents"] = 5000
    assert cheapest(week)["cost"]["total"] == 5524


def test_a_break_by_hand():
    # Alone: 12 on site, 2 of driving and a break of 2 do not fit in 14 min. Both: 6 on site and 2 of driving
    # are 8 paid min each, 2 x 8 x 50 cents; the break of 2 lies inside the visit and is not paid.
    rule = {"minutes": 2, "after_min": 6, "windows": [[4, 9]]}
    week = job(dozen(**{"break": rule}), "A", "quay", {"1": 12, "2": 6})
    plan = cheapest(week)
    assert plan["cost"]["wages"] == 800
    assert plan["van_days"][0]["break"] is not None
    assert faults(week, plan) == []


def test_a_trailer_is_fetched_by_hand():
    # The tent stands at the yard: hook 1, drive 1, unhook 1; then 3 of work and 1 home = 7 min at 50 cents.
    tent = {"id": "T", "kind": "tent", "place": "yard", "towed": True}
    tent |= {"hook_min": 1, "unhook_min": 1, "factor_pct": 100}
    need = [{"kind": "tent", "stays_min": 0}]
    week = job(dozen(trailers=[tent]), "A", "quay", {"1": 3}, trailers=need)
    plan = cheapest(week)
    assert [stop["do"] for stop in plan["van_days"][0]["stops"]] == ["tow", "visit"]
    assert plan["cost"]["total"] == 350 + 5500 + 6


def test_what_is_frozen_stays_and_nothing_valid_is_none():
    week = job(dozen(now=4), "A", "quay", {"1": 3})
    stop = {"do": "visit", "stage": "A.all", "start": 2, "end": 5}
    row = {"van": "V", "day": 0, "team": ["Bob"], "depart": 1, "back": 6}
    week["frozen"] = [row | {"break": None, "stops": [stop], "open": True}]
    plan = cheapest(week)
    assert [vd["team"] for vd in plan["van_days"]] == [["Bob"]]
    assert plan["cost"]["wages"] == 250
    week["people"][1]["duty"] = [[0, 5]]
    assert cheapest(week) is None
