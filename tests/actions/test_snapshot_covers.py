"""A roof that was asked for over wet film stays with her till that is rain-safe, whatever is planned anew.

Port was laid by 09:00 on Wednesday and is rain-safe about 15:42; rain is told for 14:00, and it is 11:30.
"""

import pytest

from dispatch.actions import planning, replanning, snapshot
from dispatch.planner.plan import read_plan
from dispatch.planner.read import read_problem
from dispatch.planner.rules import judge
from dispatch.records.models import Cover, Hold, Job, Standing, Week, WeekPlan
from tests.actions import plans, posted
from tests.journeys.test_hull_and_yard import rained_on, roof  # noqa: F401
from tests.web import people

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
PORT, STARBOARD = "j1.port-as-she-lies", "j1.starboard-as-she-lies"
DAY = 2 * 1440


@pytest.fixture
def cover(roof):  # noqa: F811 - the fixture
    return Cover.objects.create(
        job=Job.objects.get(), equipment=roof, asked_at=plans.at(26, "11:30")
    )


def left() -> dict:
    return snapshot.of(Week.objects.get())


def stage(problem, name):
    return next(row for row in problem["stages"] if row["id"] == name)


def until(problem, name=PORT) -> int:
    """The minute until which a roof is to stand by her."""
    (day,) = problem["frozen"]
    (end,) = [stop["end"] for stop in day["stops"] if stop["stage"] == name]
    ((kind, stays),) = [tuple(one.values()) for one in stage(problem, name)["trailers"]]
    assert kind == "canopy"
    return end + stays


def towed_away(problem, at: int) -> list[str]:
    """What the planner's judge finds against a plan that takes the roof off to the shop at a minute."""
    (day,) = problem["frozen"]
    length = roof_minutes(problem)
    move = {"do": "tow", "trailer": "loft", "from": "s5", "to": "s0"}
    tow = move | {"start": at, "end": at + length}
    row = {key: value for key, value in day.items() if key != "open"}
    row |= {"stops": [*day["stops"], tow], "back": at + 2 * length}
    visited = {stop["stage"] for stop in day["stops"]}
    others = [one["id"] for one in problem["stages"] if one["id"] not in visited]
    plan = {
        "format": "week-plan/2",
        "van_days": [row],
        "chosen": {"j1": "as-she-lies"},
        "unplaced": [{"stage": one, "code": "no-room", "why": "-"} for one in others],
        "cost": {"total": 0},
        "bound": None,
    }
    return [one for one in judge(read_problem(problem), read_plan(plan)) if PORT in one]


def roof_minutes(problem) -> int:
    (loft,) = [one for one in problem["trailers"] if one["id"] == "loft"]
    places = [one["id"] for one in problem["places"]]
    drive = problem["drive_min"][places.index("s5")][places.index("s0")]
    return loft["hook_min"] + -(-drive * loft["factor_pct"] // 100) + loft["unhook_min"]


def test_a_roof_asked_for_stays_till_her_film_is_rain_safe(cover):
    problem = left()
    assert DAY + 15 * 60 + 35 <= until(problem) <= DAY + 15 * 60 + 50
    assert towed_away(problem, until(problem) - 1)
    assert not towed_away(problem, until(problem))


def test_without_one_nothing_keeps_it(roof):  # noqa: F811 - the fixture
    problem = left()
    assert stage(problem, PORT)["trailers"] == []
    assert not towed_away(problem, DAY + 12 * 60)


def test_it_is_where_she_lies_though_it_comes_from_elsewhere(cover):
    posted.van_day(day=plans.at(28, "08:00").date())
    shop = cover.equipment.standings.get()
    shop.place_id = shop.place.__class__.objects.get(key="s0").pk
    shop.save()
    problem = left()
    (loft,) = [one for one in problem["trailers"] if one["id"] == "loft"]
    assert loft["place"] == "s5"
    assert until(problem) > DAY + 15 * 60


def test_once_on_it_stays_and_once_off_it_is_free(cover):
    Cover.objects.update(on_at=plans.at(26, "11:25"))
    Standing.objects.create(
        equipment=cover.equipment,
        place=cover.job.boat.place,
        since=plans.at(26, "11:25"),
    )
    assert until(left()) > DAY + 15 * 60
    Cover.objects.update(off_at=plans.at(26, "11:28"))
    assert stage(left(), PORT)["trailers"] == []


def test_film_that_has_no_known_end_keeps_it_to_the_end_of_the_week(cover):
    Hold.objects.filter(stage__key="port-as-she-lies").update(end=None)
    problem = left()
    assert until(problem) == problem["days"][-1][1]


def test_film_that_is_rain_safe_keeps_nothing(cover):
    Hold.objects.filter(stage__key="port-as-she-lies").update(end=plans.at(26, "11:00"))
    assert stage(left(), PORT)["trailers"] == []


def test_her_other_visits_may_be_under_it(cover):
    problem = left()
    boats = {one["id"]: one["boat"] for one in problem["jobs"]}
    assert boats[stage(problem, PORT)["job"]] == cover.job.boat.key


def test_what_can_be_had_is_no_roof_of_the_outfit_and_keeps_none(cover):
    Cover.objects.update(equipment=None)
    assert stage(left(), PORT)["trailers"] == []


def test_the_rest_of_the_week_is_planned_with_it(cover):
    """The planner takes the problem, and its own judge finds nothing against the draft."""
    week, visits = Week.objects.get(), [(PORT, "07:30", "09:00")]
    made = plans.draft([(26, "07:00", "17:00", visits)])
    WeekPlan.objects.filter(state="standing").update(
        problem=made.problem, plan=made.plan, zero_at=made.zero_at
    )
    made.delete()
    draft = replanning.ask(week, by=people.owner(), seconds=1)
    planning.build(draft)
    draft.refresh_from_db()
    assert (draft.state, draft.fault) == ("draft", "")
    moves = [
        stop
        for row in draft.plan["van_days"]
        for stop in row["stops"]
        if stop.get("trailer") == "loft"
    ]
    assert all(stop["start"] >= until(draft.problem) for stop in moves)
