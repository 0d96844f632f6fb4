"""A job that needs more days than a week has left: its first part is planned, the rest in the next week."""

from datetime import timedelta

import pytest

from dispatch.actions import board_left_out, board_reading
from dispatch.actions.snapshot_over import cut
from dispatch.records.models import Duty, Person, Visit, WeekPlan
from tests.actions import shop
from tests.actions.test_snapshot import MONDAY, NEXT, job, stages, stands

pytestmark = pytest.mark.django_db
__all__ = ["job"]
DAY = 1440


def row(name, minutes, after=(), **changes):
    """A stage of job A that anybody can do in some minutes."""
    base = {"id": f"A.{name}", "job": "A", "variant": None, "extra": False}
    links = [
        {"stage": f"A.{n}", "min_lag": lag, "max_lag": high, "same_van_day": False}
        for n, lag, high in after
    ]
    return base | {"minutes": {"1": minutes}, "after": links} | changes


def week(*rows, days=2, now=0, variants=()):
    job = {"id": "A", "promise": 99, "unfinished_cents": 90_000, "variants": variants}
    return {
        "now": now,
        "days": [[d * DAY, d * DAY + DAY] for d in range(days)],
        "people": [{"duty": [[d * DAY + 480, d * DAY + 960] for d in range(days)]}],
        "jobs": [job],
        "stages": list(rows),
    }


def left(problem, **more):
    found = cut(problem, **{"kept": set()} | more)
    return [one["id"] for one in found["stages"]], found["jobs"][0]


def test_what_fits_into_the_week_stays_whole():
    problem = week(row("wash", 120), row("coat", 120, [("wash", 60, None)]))
    assert cut(problem, kept=set()) is problem


def test_what_cannot_end_in_time_goes_on_in_the_next_week_and_the_rest_is_worth_its_share():
    problem = week(
        row("wash", 120),
        row("coat", 60, [("wash", 2000, None)]),
        row("last", 60, [("coat", 0, None)]),
    )
    # Washed by 10:00 on the first day, 33 h 20 min later is 19:20 on the second: duty is over.
    names, job = left(problem)
    assert names == ["A.wash"]
    assert job["unfinished_cents"] == 45_000
    assert job["promise"] is None


def test_a_lag_is_read_by_the_hour_at_which_the_stage_before_could_end():
    table = [[0, 700, 3000], [700, 2 * DAY, 30]]
    problem = week(row("coat", 60), row("sand", 60, [("coat", table, None)]))
    assert left(problem)[0] == ["A.coat"]


def test_what_must_follow_soon_is_not_parted_from_what_it_follows():
    problem = week(
        row("wash", 60),
        row("prep", 60, [("wash", 0, None)]),
        row("coat", 60, [("prep", 2000, 2900)]),
    )
    assert left(problem)[0] == ["A.wash"]


def test_of_what_cannot_even_begin_nothing_is_cut():
    problem = week(row("long", 700), row("last", 60, [("long", 0, None)]))
    assert cut(problem, kept=set()) is problem


def test_where_one_way_of_doing_the_job_ends_in_time_all_ways_stay():
    slow = row("slow", 60, [("wash", 2900, None)], variant="open")
    quick = row("quick", 60, [("wash", 60, None)], variant="roofed")
    problem = week(row("wash", 60), slow, quick, variants=["open", "roofed"])
    assert cut(problem, kept=set()) is problem


def test_an_appointment_after_the_week_and_a_visit_in_it_count():
    problem = week(row("wash", 60), row("launch", 60, [("wash", 0, None)]))
    assert left(problem, later={"A.launch"})[0] == ["A.wash"]
    both = left(problem, later={"A.launch"}, kept={"A.launch"})[0]
    assert both == ["A.wash", "A.launch"]


def test_begun_in_one_week_a_job_is_finished_in_the_next(job):
    """Work on Mondays only: what is sprayed on one is sanded on the next, never left out for want of days."""
    Duty.objects.exclude(weekday=0).delete()
    assert Person.objects.count() == 1
    found, problem = stages()
    assert "j1.port-roofed" in found
    assert "j1.finish" not in found
    for name in sorted(found):
        assert {after["stage"] for after in found[name]["after"]} <= set(found)
    start = shop.NOW + timedelta(hours=14)
    first, *others = job.stages.exclude(key="finish").filter(variant__in=("", "roofed"))
    day = stands(first, start, week=MONDAY).van_day
    for stage in others:
        end = start + timedelta(hours=2)
        Visit.objects.create(stage=stage, van_day=day, start=start, end=end)
    then, _ = stages(NEXT)
    assert "j1.finish" in then

    plan = WeekPlan.objects.get(week__starts_on=MONDAY)
    plan.problem, plan.plan = (
        problem,
        {"chosen": {"j1": "roofed"}, "van_days": [], "unplaced": []},
    )
    [going] = board_left_out.rows(board_reading.read(plan))
    assert going.goes_on
    assert [one.stage for one in going.stages] == ["j1.finish"]
    assert "goes on in the next" in going.why
