"""What would mend a snag: the cheapest change by hand, tried and priced by a task, one tap from its draft."""

from datetime import timedelta

import pytest

from dispatch.actions import by_hand, due, mends, planning, show_board, sweeping
from dispatch.records.models import DueWork, Job, Mend, Person, Van, WeekPlan
from tests.actions import plans
from tests.actions.test_moves import placed
from tests.web import people

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]


@pytest.fixture
def late():
    """Return a draft that washes a boat on Tuesday morning, promised by Monday evening."""
    plans.wash(plans.outfit())
    Job.objects.update(promise=Job.Promise.HARD, promised_by=plans.at(24, "17:00"))
    return placed()


def snag(plan, about):
    return next(one for one in show_board.board(plan).snags if one.about == about)


def page(client, plan):
    answer = client.get(f"/week/{plan.week.starts_on}/")
    assert answer.status_code == 200
    return answer.text


def test_a_late_boat_is_put_where_the_promise_holds(late):
    assert snag(late, "late:j1").priced is None
    mends.price(str(late.pk))
    found = snag(late, "late:j1").priced
    assert found.ask["do"] == "put"
    assert found.ask["day"] == "2027-05-24"
    assert "“Maintenance wash” on Monday" in found.words
    assert WeekPlan.objects.count() == 1


def test_one_tap_makes_the_draft_that_keeps_it(late, client):
    client.force_login(people.owner())
    mends.price(str(late.pk))
    told = page(client, late)
    assert "Put it there in a draft" in told
    assert "worked out" in told
    ask = Mend.objects.get(snag="late:j1").ask
    sent = {name: ask[name] for name in ("van", "day", "at", "who")}
    client.post(f"/week/why/{ask['stage']}/moves/put/", sent | {"plan": late.pk})
    made = WeekPlan.objects.latest("pk")
    assert made.origin == late
    assert not [s for s in show_board.board(made).snags if s.about == "late:j1"]


def test_the_price_is_what_the_draft_costs_more(late):
    mends.price(str(late.pk))
    row = Mend.objects.get(snag="late:j1")
    owner, ask = people.owner(), row.ask
    start = plans.at(24, ask["at"])
    team = tuple(Person.objects.filter(key__in=ask["who"]))
    van = Van.objects.get(key=ask["van"])
    before = by_hand.try_put(late, "j1.wash", van, start, team=team)
    assert before.cents == row.cents
    made = by_hand.put(late, "j1.wash", van, start, by=owner, team=team)
    assert made.plan["cost"]["total"] > 0


def test_where_nothing_mends_it_the_board_says_so(late, client):
    Job.objects.update(promised_by=plans.at(24, "06:00"))
    mends.price(str(late.pk))
    found = snag(late, "late:j1").priced
    assert not found.ask
    client.force_login(people.owner())
    told = page(client, late)
    assert "No other hour of her last visit keeps the promise" in told
    assert "Put it there in a draft" not in told


def test_somebody_over_their_hours_gives_a_day_to_whoever_is_free(late):
    plans.person("spare", "Corin Vale", "CV")
    plan = placed()
    plan.problem["people"] = [
        row | {"week_regular_min": 60 if row["id"] == "rook" else 2400}
        for row in plan.problem["people"]
    ]
    plan.save()
    mends.price(str(plan.pk))
    found = snag(plan, "hours:rook").priced
    assert found.ask == {
        "do": "swap",
        "van": "knot",
        "day": "2027-05-25",
        "out": "rook",
        "into": "spare",
    }
    assert "Corin Vale rides in Knot on Tuesday" in found.words


def test_a_task_works_it_out_never_the_page(late, client):
    client.force_login(people.owner())
    page(client, late)
    assert not Mend.objects.exists()
    due.put("price-mends", str(late.pk))
    sweeping.sweep("rest")
    assert Mend.objects.filter(plan=late).exists()


def test_posting_a_week_leaves_the_task_behind(late):
    planning.post(late, by=people.owner(), why="The owner says so.")
    assert DueWork.objects.filter(verb="price-mends", key=str(late.pk)).exists()


def test_a_draft_left_aside_is_not_worked_on(late):
    WeekPlan.objects.update(state=WeekPlan.State.LEFT)
    mends.price(str(late.pk))
    assert not Mend.objects.exists()


def test_what_was_worked_out_before_is_replaced(late):
    mends.price(str(late.pk))
    Mend.objects.update(at=plans.at(20, "08:00") - timedelta(days=1), words="old")
    mends.price(str(late.pk))
    assert not Mend.objects.filter(words="old").exists()
    assert Mend.objects.filter(snag="late:j1").count() == 1
