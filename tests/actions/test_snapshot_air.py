"""Nobody works beside two-part while it is laid, nor half an hour after (common practice), in the planner's own words.

Plans are judged by ``check_week.py``, which shares no code with the house.
"""

from datetime import date, time

import pytest

from dispatch.actions import (
    board_reading,
    book,
    house_rules,
    planner_words,
    show_board,
    snapshot,
    snapshot_air,
    solving,
)
from dispatch.records.models import JobKind, Person, Pin, Sheet, Skill, Stage, Van, Week
from tests.actions import plans, shop
from tests.bench.outside import check_week

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
AIR = "clear-air:second-wind:plain-jane"


@pytest.fixture
def week():
    """A two-part coat, and beside it a boat that is to be washed; two vans with two people each."""
    place = plans.outfit()
    for key, name, initials in (("winnie", "Winnie", "WS"), ("orla", "Orla", "OT")):
        plans.person(key, name, initials)
    for person in Person.objects.all():
        for skill in ("hood", "spray-2"):
            Skill.objects.create(
                person=person, name=skill, fit_test_until=date(2027, 9, 30)
            )
    knot = Van.objects.get()
    Van.objects.create(
        key="plover",
        name="Plover",
        base=place,
        seats=3,
        gear=["washer"],
        duty_start=time(6),
        duty_end=time(18),
    )
    assert knot.seats == 5
    plans.coat(place)
    Sheet.objects.update(kind="two-part")
    beside = shop.boat(place, key="plain-jane", name="Plain Jane")
    kind = JobKind.objects.get(key="wash")
    book.take_job(key="j2", boat=beside, kind=kind, unfinished_cents=50000)
    return Week.objects.get_or_create(starts_on=plans.MONDAY)[0]


def row(problem, name):
    return next(one for one in problem["stages"] if one["id"] == name)


def kinds(problem, name):
    return {need["kind"]: need["stays_min"] for need in row(problem, name)["trailers"]}


def test_both_need_one_clear_air_and_the_wet_one_for_half_an_hour_more(week):
    problem = snapshot.of(week)
    assert kinds(problem, "j1.port-as-she-lies")[AIR] == 30
    assert kinds(problem, "j2.wash")[AIR] == 0
    assert AIR not in kinds(problem, "j1.prep")
    assert [one["id"] for one in problem["trailers"]] == ["the-shed", AIR]


def test_on_her_own_boat_what_follows_waits_as_long(week):
    problem = snapshot.of(week)
    found = [
        link["min_lag"]
        for one in problem["stages"]
        for link in one["after"]
        if link["stage"].startswith("j1.port") and one["id"].startswith("j1.finish")
    ]
    assert found
    for lag in found:
        assert lag >= 30 if isinstance(lag, int) else min(w for _, _, w in lag) >= 30


def test_one_part_keeps_nobody_off(week):
    Sheet.objects.update(kind="one-part")
    assert snapshot.of(week)["trailers"] == snapshot_air.real(
        snapshot.of(week)["trailers"]
    )


def side_by_side(problem, start):
    """Port by the one van from 11:00 on Tuesday, the wash beside her by the other from a minute of that day."""
    spray, wash = 1440 + 660, 1440 + start
    spans = {
        "j1.port-as-she-lies": (
            spray,
            spray + row(problem, "j1.port-as-she-lies")["minutes"]["2"],
        ),
        "j2.wash": (wash, wash + row(problem, "j2.wash")["minutes"]["2"]),
    }
    teams = {
        "j1.port-as-she-lies": ("knot", ["rook", "teague"]),
        "j2.wash": ("plover", ["orla", "winnie"]),
    }
    return {
        "format": "week-plan/2",
        "van_days": [
            {
                "van": teams[name][0],
                "day": 1,
                "team": teams[name][1],
                "depart": s,
                "back": e,
                "break": None,
                "stops": [{"do": "visit", "stage": name, "start": s, "end": e}],
            }
            for name, (s, e) in spans.items()
        ],
        "chosen": {"j1": "as-she-lies"},
        "unplaced": [],
        "cost": dict.fromkeys((*check_week.PARTS, "total"), 0),
        "bound": None,
    }


def air_faults(problem, plan):
    found, _ = check_week.Check(problem, plan).run()
    return [one for one in found if "for two boats at once" in one]


def test_an_outside_judge_refuses_them_at_one_hour(week):
    problem = snapshot.of(week)
    length = row(problem, "j1.port-as-she-lies")["minutes"]["2"]
    assert air_faults(problem, side_by_side(problem, 660))
    assert air_faults(problem, side_by_side(problem, 660 + length + 29))
    assert not air_faults(problem, side_by_side(problem, 660 + length + 30))


def test_what_the_owner_has_made_fast_side_by_side_stays_so(week):
    at = plans.at(25, "11:00")
    for name, van in (("port-as-she-lies", "knot"), ("wash", "plover")):
        stage = Stage.objects.get(key=name)
        Pin.objects.create(stage=stage, van=Van.objects.get(key=van), start=at)
    assert snapshot.of(week)["trailers"] == snapshot_air.real(
        snapshot.of(week)["trailers"]
    )


def test_without_gives_the_problem_as_it_was(week):
    problem = snapshot.of(week)
    plain = snapshot_air.without(problem)
    assert [one["id"] for one in plain["trailers"]] == ["the-shed"]
    assert AIR not in kinds(plain, "j2.wash")
    assert not air_faults(plain, side_by_side(plain, 660))


def test_a_built_week_breaks_no_rule_about_two_part(week):
    for stage in Stage.objects.all():
        plans.weather.judge(stage)
    problem = snapshot.of(week)
    answer = solving.solve(problem, seconds=4, workers=1, seed=3)
    assert solving.judge(problem, answer) == []
    plan = plans.draft([], plan=answer, problem=problem)
    codes = {one.code for one in house_rules.objections(plan)}
    assert not codes & {"near-isocyanate", "bystander"}
    assert [one.key for one in show_board.board(plan).equipment] == ["the-shed"]


def test_the_planners_sentences_name_boats_and_no_such_equipment(week):
    plan = plans.draft([])
    reading = board_reading.read(plan)
    told = planner_words.said(reading, f"One more {AIR}, but it adds $40.00.")
    assert told == (
        "Leave to work on Plain Jane beside the two-part of Second Wind, but it adds $40.00."
    )
    told = planner_words.said(
        reading, f"j1.port, j2.wash need one {AIR} for two boats at once."
    )
    assert "air clear of the two-part of Second Wind" in told
