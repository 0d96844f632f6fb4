"""The quality table tells what was measured and never calls a broken plan good."""

import csv

import pytest

from tests.bench.figures import Figure, Target, table, targets, write
from tests.bench.measure import Measured
from tests.bench.rows import ROWS
from tests.bench.standing import kept_pct
from tests.bench.variants import fixed
from tests.planner.weeks import made, saved


def run(value, **changes):
    given = {"row": "medium-10", "week": "medium:1", "seed": 1, "seconds": 10.0}
    return Figure(**(given | {"name": "over_known_pct", "value": value} | changes))


@pytest.mark.parametrize(
    ("values", "holds"), [((-0.4, 0.2), "aim"), ((2, 4), "must"), ((3, 3.1), "NO")]
)
def test_a_row_says_whether_its_mean_holds(values, holds):
    [_, line] = table([run(value) for value in values]).splitlines()
    assert line.split()[-1] == holds


def test_a_row_with_a_broken_plan_does_not_hold_however_cheap():
    lines = table([run(0.0), run(-9.0, broken=1)])
    assert "NO: 1 runs broke a rule or gave no plan" in lines


def test_a_row_without_a_plan_says_why():
    assert "nothing measured: killed" in table([run(None, note="killed")])


def test_at_least_is_judged_from_below():
    kept = Target(row="r", name="kept_pct", at="least", must=80, aim=90)
    assert [kept.verdict(v) for v in (95, 85, 70)] == ["aim", "must", "NO"]


def test_every_wish_is_of_a_row_there_is():
    assert {row for row, _ in targets()} == ROWS.keys()


def test_each_figure_is_a_line_of_the_file(tmp_path):
    write(tmp_path, [run(1.5), run(2.5, week="medium:2")])
    with (tmp_path / "figures.csv").open() as file:
        rows = list(csv.DictReader(file))
    assert [(r["week"], r["value"]) for r in rows] == [
        ("medium:1", "1.5"),
        ("medium:2", "2.5"),
    ]


def test_over_a_known_total_is_in_per_cent():
    plan = {"cost": {"total": 103}}
    seen = Measured(plan=plan, first_s=1.0, took_s=2.0, broken=0, note="")
    assert seen.over(100) == pytest.approx(3)
    assert seen.over(None) is None


def test_a_told_visit_is_kept_on_its_day_and_near_its_time():
    problem, plan = saved("ten_jobs")
    stops = [s for vd in plan["van_days"] for s in vd["stops"] if s["do"] == "visit"]
    told = [{"stage": s["stage"], "start": s["start"]} for s in stops[:4]]
    told[0]["start"] += 30
    told[1]["start"] += 31
    told[2]["start"] -= 1440
    problem["standing"] = {"visits": told, "tolerance_min": 30}
    assert kept_pct(problem, plan) == 50


def test_ways_chosen_beforehand_leave_one_way_of_each_job():
    problem = made("small+", 1)
    ways = {job["id"]: job["variants"] for job in problem["jobs"] if job["variants"]}
    assert ways
    for which in (0, -1):
        gone = {(job, way) for job, all_ways in ways.items() for way in all_ways}
        gone -= {(job, all_ways[which]) for job, all_ways in ways.items()}
        left = {stage["id"] for stage in fixed(problem, which)["stages"]}
        for stage in problem["stages"]:
            assert (stage["id"] in left) != ((stage["job"], stage["variant"]) in gone)
