"""Nobody turns a boat between her wet sides: not the planner, not the owner by hand, and her page says so with the hours.

Film and shade are by the study's own script; that a half-set film is not towed about is common practice.
"""

from datetime import timedelta

import pytest

from dispatch.actions import book, by_hand, holds, other_ways, planning, weather
from dispatch.actions.errors import Refused
from dispatch.records.models import Boat, Job, JobKind, Outfit, Sheet, Van
from tests.actions import plans
from tests.journeys.asked import DAY, problem_of_the_week, row, visits
from tests.journeys.test_planned_moves import on_friday_and_saturday, side_days
from tests.planner.weeks import faults, planned
from tests.web import people

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
STARBOARD, PORT, TURN = "starboard-as-she-lies", "j1.port-turned", "j1.turn-turned"


@pytest.fixture
def owner():
    return people.owner()


def moment(minute: int):
    return plans.at(24, "00:00") + timedelta(minutes=minute)


def laid(job: Job, key: str) -> None:
    """Have a side laid on Friday by 13:25; it is 13:30 then."""
    Outfit.objects.update(stands_at=plans.at(28, "13:30"))
    stage = job.stages.select_related("job__boat__place", "sheet").get(key=key)
    book.mark_done(stage, started_at=plans.at(28, "12:00"), ended_at=plans.at(28, "13:25"))  # fmt: skip
    holds.write(stage, plans.at(28, "13:25"), planned=False)


def test_with_one_side_wet_as_she_lies_she_is_offered_no_turn(client, owner):
    on_friday_and_saturday()
    client.force_login(owner)
    page = client.get("/boats/second-wind/").text
    assert "Do not turn her now" not in page
    job = Job.objects.get()
    book.mark_done(job.stages.get(key="mask"), started_at=None, ended_at=plans.at(27, "17:00"))  # fmt: skip
    laid(job, STARBOARD)
    page = client.get("/boats/second-wind/").text.replace("\N{NO-BREAK SPACE}", " ")
    assert "Do not turn her now." in page
    assert "is laid and sandable about Sat 0" in page
    assert "no boat is turned before all her film is" in page
    assert "what is begun that way is ended that way" in page
    assert "The planner is not offered it." in page
    problem = problem_of_the_week()
    assert problem["jobs"][0]["variants"] == ["as-she-lies"]
    assert TURN not in {stage["id"] for stage in problem["stages"]}


def test_by_hand_she_is_not_turned_once_a_side_is_laid(owner):
    problem = on_friday_and_saturday(turned_heading_deg=355)
    plan = plans.draft([])
    plan.problem, plan.plan = problem, planned(problem, steps=600)
    plan.save()
    assert faults(problem, plan.plan) == []
    assert len(side_days(plan.plan)) == 2
    stops = {name: stop for name, (_, stop) in visits(plan.plan).items()}
    # Into the hours between her two sides, and after the last of them.
    for minute in sorted(stop["end"] for name, stop in stops.items() if name != TURN):
        at = moment(minute)  # fmt: skip
        answer = by_hand.try_put(plan, TURN, Van.objects.get(), at)
        kept = visits(answer.plan) if answer.fits else {}
        # It may be had only where the sides come after it, never between them.
        assert not kept or all(
            kept[TURN][1]["end"] <= kept[name][1]["start"]
            for name in side_days(answer.plan)
        )
    planning.post(plan, by=owner, why="They agreed to it.")
    laid(Job.objects.get(), "port-turned")
    with pytest.raises(Refused):
        other_ways.take(plan, Job.objects.get(), "as-she-lies", by=owner)


def test_film_of_another_job_keeps_her_from_being_turned_till_it_is_sandable(owner):
    on_friday_and_saturday()
    other = book.take_job(
        key="j2",
        boat=Boat.objects.get(),
        kind=JobKind.objects.get(key="spray-coat"),
        sheet=Sheet.objects.get(),
        sides_only=True,
    )
    before = row(problem_of_the_week(), TURN)["windows"]
    assert before[0][0] < 4 * DAY + 14 * 60
    laid(other, STARBOARD)
    weather.judge(Job.objects.get(key="j1").stages.get(key="turn-turned"))
    (hold,) = other.stages.get(key=STARBOARD).holds.filter(kind="sandable")
    after = row(problem_of_the_week(), TURN)["windows"]
    first = moment(after[0][0])  # fmt: skip
    assert first >= hold.latest
