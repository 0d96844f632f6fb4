"""The settings in groups: every subject in one, each group told in a line with its numbers."""

from collections import Counter

import pytest

from dispatch.actions import settings
from dispatch.actions.setting_subjects import BY_KEY, SUBJECTS
from dispatch.web.owner import settings_groups, settings_lines
from tests.actions import shop
from tests.web import people

pytestmark = pytest.mark.django_db


def cards(*, of_the_sky: bool):
    shop.outfit()
    return [
        settings_groups.Card(subject=one, lines=settings_lines.lines(one, "us"))
        for one in SUBJECTS
        if one.family == of_the_sky
    ]


def says(key):
    found = {one.key: one for one in settings_groups.of(cards(of_the_sky=False))}
    return found[key]


def test_each_subject_stands_in_one_group():
    named = Counter(
        one for _, _, subjects, _ in settings_groups.GROUPS for one in subjects
    )
    assert named == Counter(one.key for one in SUBJECTS if not one.family)


def test_a_group_that_nobody_changed_tells_what_says_most_of_it():
    days = says("days")
    assert not days.changed
    assert days.says == (
        f"{sum(len(card.lines) for card in days.cards)} numbers, none changed: break 30 min; "
        "on site a day, at most 600 min; speed on the road 32 mph"
    )


def test_a_group_tells_first_what_was_changed_and_no_more_than_three():
    by = people.owner()
    for name, value in (
        ("day.break_minutes", 45.0),
        ("shifts.site_minutes", 540.0),
        ("shifts.hood_minutes", 240.0),
        ("travel.start_minutes", 5.0),
    ):
        settings.change(name, value, by=by)
    days = says("days")
    assert days.changed
    assert "4 changed: The working day, break 45 min; People's hours, " in days.says
    assert days.says.endswith("; 1 more")


def test_many_numbers_for_kinds_of_job_are_parted_by_kind(client):
    shop.outfit()
    shop.catalogue()
    client.force_login(people.owner())
    client.post("/settings/learnt/", {"was:learnt.wash.2": "1", "v:learnt.wash.2": "2"})
    found = settings_groups.parts(settings_lines.lines(BY_KEY["learnt"], "us"))
    assert {len(part.lines) for part in found} == {4}
    wash = next(part for part in found if part.key == "wash")
    assert (wash.name, wash.changed) == ("Wash", True)
    assert wash.says == "1 changed: grade 2, takes the catalogue's minutes 2 times"
    assert sum(part.changed for part in found) == 1


def test_a_form_of_other_numbers_is_one_part():
    shop.outfit()
    (whole,) = settings_groups.parts(settings_lines.lines(BY_KEY["sky"], "us"))
    assert not whole.name
    assert len(whole.lines) > 14


def test_the_table_of_the_sky_is_told_by_the_guns_limits():
    told = settings_groups.of_the_sky(cards(of_the_sky=True))
    assert told == (
        "117 numbers, none changed: spray, steady wind at most 10 mph; gust at most 14 mph; "
        "humidity at most 82 %"
    )
