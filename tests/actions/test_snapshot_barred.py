"""A fit test that ends within the week: its wearer is barred from the day after it on, not from the days before."""

from datetime import date, timedelta

import pytest

from dispatch.actions import snapshot
from dispatch.records.models import Person, Sheet, Skill, Stage, Week
from tests.actions import plans

pytestmark = pytest.mark.django_db
PORT = "j1.port-as-she-lies"
TUESDAY = date(2027, 5, 25)


@pytest.fixture
def week():
    """Two-part to lay, for Rook and Teague, both in hoods till autumn."""
    plans.coat(plans.outfit())
    Sheet.objects.update(kind="two-part", pot_life_ref_h=3)
    for key in ("rook", "teague"):
        hood(Person.objects.get(key=key), date(2027, 9, 30))
    return Week.objects.create(starts_on=plans.MONDAY)


def hood(person, until):
    for name, test in (("hood", until), ("spray-2", None)):
        Skill.objects.create(person=person, name=name, fit_test_until=test)


def port(week):
    problem = snapshot.of(week)
    row = next(one for one in problem["stages"] if one["id"] == PORT)
    days = {number for number, (start, end) in enumerate(problem["days"]) if any(start <= s < end for s, _ in row["windows"])}  # fmt: skip
    skills = {one["id"]: one["skills"] for one in problem["people"]}
    return row["barred"], days, skills


def ends(key, until):
    Skill.objects.filter(person__key=key, name="hood").update(fit_test_until=until)


def test_nobody_else_can_so_the_coat_keeps_the_days_of_the_test(week):
    _, all_days, _ = port(week)
    assert max(all_days) > 1
    ends("teague", TUESDAY)
    barred, days, skills = port(week)
    assert (barred, days) == ([], all_days & {0, 1})
    assert "hood" in skills["teague"]


def test_where_another_can_the_coat_keeps_its_days_and_goes_to_them(week):
    hood(plans.person("maeve", "Maeve Tolliver", "MT"), date(2027, 9, 30))
    _, all_days, _ = port(week)
    ends("teague", TUESDAY)
    barred, days, _ = port(week)
    assert (barred, days) == (["teague"], all_days)


def test_a_test_that_outlasts_the_coats_own_hours_bars_nobody(week):
    """Her hours are on Monday and Tuesday alone: somebody fitted till Tuesday may take them beside the others."""
    hood(plans.person("maeve", "Maeve Tolliver", "MT"), date(2027, 9, 30))
    Stage.objects.get(key="port-as-she-lies").vetoes.create(
        plugin="weather_veto",
        edge="during",
        start=plans.at(26, "00:00"),
        end=plans.at(31, "00:00"),
        code="wind",
        sentence="It blows.",
        strength="wall",
    )
    ends("teague", TUESDAY)
    barred, days, _ = port(week)
    assert barred == []
    assert days <= {0, 1}


def test_a_test_that_is_over_or_has_no_day_bars_all_week(week):
    for until in (plans.MONDAY - timedelta(days=1), None):
        ends("teague", until)
        barred, _, skills = port(week)
        assert barred == ["teague"]
        assert "hood" not in skills["teague"]


def test_of_two_tests_that_end_the_coat_keeps_the_days_of_the_first(week):
    ends("rook", date(2027, 5, 27))
    ends("teague", TUESDAY)
    barred, days, _ = port(week)
    assert barred == []
    assert days <= {0, 1}
