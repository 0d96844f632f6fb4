"""A finished draft is judged by rules of the house before it is posted: walls hold, the rest asks for a reason."""

from datetime import date, timedelta

import pytest

from dispatch.actions import barred, house_rules, planning, snapshot
from dispatch.actions.errors import Refused
from dispatch.records.models import (
    HistoryEntry,
    Override,
    Person,
    Sheet,
    Skill,
    Visit,
    Week,
)
from tests.actions import plans, posted, shop

pytestmark = pytest.mark.django_db
LONG = (24, "06:00", "13:30", [("j1.prep", "07:30", "12:50")])
WHY = "They asked for it, and sit in the shade at ten."


@pytest.fixture
def coat():
    return plans.coat(plans.outfit())


@pytest.fixture
def owner():
    return plans.owner()


def codes(plan) -> dict[str, str]:
    return {one.code: one.strength for one in house_rules.objections(plan)}


def test_a_draft_that_keeps_them_is_posted_without_a_word(coat, owner):
    plan = plans.draft([(24, "07:00", "12:30", [("j1.prep", "07:30", "12:20")])])
    assert codes(plan) == {}
    planning.post(plan, by=owner)
    assert Visit.objects.count() == 1
    assert not Override.objects.exists()


def test_no_break_by_the_sixth_hour_asks_the_owner_why(coat, owner):
    plan = plans.draft([LONG])
    assert codes(plan) == {"break": "owner"}
    with pytest.raises(Refused, match=r"7 h 30 without a break .* Say why"):
        planning.post(plan, by=owner)
    assert not Visit.objects.exists()
    planning.post(plan, by=owner, why=WHY)
    row = Override.objects.get(plan=plan)
    assert (row.code, row.who, row.why) == ("break", "orla", WHY)
    entry = HistoryEntry.objects.get(verb="post-week")
    assert entry.why == WHY
    assert "7 h 30 without a break" in entry.sentence


def test_a_reason_of_two_letters_is_none_and_nothing_is_posted(coat, owner):
    plan = plans.draft([LONG])
    with pytest.raises(Refused, match="Say why"):
        planning.post(plan, by=owner, why="ok")
    assert not Visit.objects.exists()
    assert not Override.objects.exists()


def test_a_hand_of_17_at_the_deoxidiser_is_a_wall_whatever_the_reason(coat, owner):
    Person.objects.filter(key="rook").update(born=date(2009, 6, 1))
    plan = plans.draft([(24, "07:00", "12:30", [("j1.prep", "07:30", "12:20")])])
    assert codes(plan) == {"minor": "wall"}
    with pytest.raises(Refused, match="nobody may overrule it: Rook Ferrante is 17"):
        planning.post(plan, by=owner, why=WHY)
    assert not Visit.objects.exists()


def two_part() -> None:
    sheet = Sheet.objects.get(key="one")
    sheet.kind = "two-part"
    sheet.save()


def test_two_part_without_hoods_in_date_is_a_wall(coat, owner):
    two_part()
    spray = [("j1.port-as-she-lies", "10:00", "11:40")]
    plan = plans.draft([(24, "09:00", "12:30", spray)])
    assert codes(plan) == {"fit-test": "wall"}
    for person in Person.objects.all():
        Skill.objects.create(
            person=person, name="hood", fit_test_until=date(2027, 5, 24)
        )
    assert codes(plan) == {}
    for over in (date(2027, 5, 23), None):
        Skill.objects.filter(name="hood").update(fit_test_until=over)
        assert codes(plan) == {"fit-test": "wall"}


def test_the_posted_day_before_the_week_counts_for_the_rest_between_days(coat, owner):
    sunday = plans.MONDAY - timedelta(days=1)
    late = posted.van_day(Person.objects.get(key="rook"), day=sunday)
    late.plan.week = Week.objects.create(starts_on=sunday - timedelta(days=6))
    late.plan.save()
    late.back = posted.at("23:00", sunday)
    late.save()
    plan = plans.draft([(24, "07:00", "12:30", [("j1.prep", "07:30", "12:20")])])
    assert codes(plan) == {"start-gap": "wall"}


def test_the_planner_is_given_hours_for_the_break_that_keep_the_rule(coat):
    """Duty is from 07:00 to 17:00: a break of 30 min after at most 6 h begins from 10:30 to 13:00, in the usual hours from 11:00."""
    week = Week.objects.create(starts_on=plans.MONDAY)
    rule = snapshot.of(week)["break"]
    start = snapshot.of(week)["days"][0][0]
    assert rule["windows"][0] == [start + 660, start + 810]
    assert (rule["minutes"], rule["after_min"]) == (30, 360)


def test_somebody_of_17_is_kept_from_solvents_by_the_planner_too(coat):
    Person.objects.filter(key="rook").update(born=date(2009, 6, 1))
    week = Week.objects.create(starts_on=plans.MONDAY)
    barred = {row["id"]: row["barred"] for row in snapshot.of(week)["stages"]}
    assert barred["j1.prep"] == ["rook"]
    assert barred["j1.port-as-she-lies"] == ["rook"]
    assert barred["j1.inside"] == []


def test_on_their_18th_birthday_they_are_grown_up(coat):
    person = Person(born=date(2009, 5, 24))
    assert barred.years(person, date(2027, 5, 24)) == 18
    assert barred.years(person, date(2027, 5, 23)) == 17
    assert barred.years(Person(), date(2027, 5, 24)) is None
    assert shop.NOW.date() == date(2027, 5, 23)
