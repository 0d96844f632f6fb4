"""Why a stage may be done when it may: hours, reasons with numbers in the outfit's units, and the plan's answer."""

import pytest

from dispatch.actions import show_why, weather
from dispatch.actions.errors import Refused
from dispatch.records.models import Outfit, Place, Stage
from dispatch.trade.spans import Span
from tests.actions import plans
from tests.actions.plans import at

pytestmark = pytest.mark.django_db
WEEK = Span(at(24, "00:00"), at(31, "00:00"))


@pytest.fixture
def job():
    return plans.coat(plans.outfit())


def why(name, plan=None):
    return show_why.why(show_why.stage_named(name), plan, WEEK)


def test_the_visit_needs_its_work_and_its_flash(job):
    """The quickest is by the warmest hull of the week, 80 F on Saturday: 17 min between the coats, rounded up."""
    stage = job.stages.get(key="port-as-she-lies")
    assert why("j1.port-as-she-lies").quickest_minutes == stage.minutes["2"] + 20


@pytest.mark.parametrize(
    ("family", "said"),
    [
        ("inside", "the outfit's own limits for “Inside and stainless”"),
        ("any", "the place's hours alone: any sky will do"),
    ],
)
def test_whose_limits_hold_is_told_by_the_name_its_settings_have(job, family, said):
    job.stages.update(family=family, sheet=None)
    assert why("j1.port-as-she-lies").rule == said


def test_numbers_come_in_the_outfits_units(job):
    def cold(found):
        return next(row for row in found.against if row.code == "air-cold")

    assert ("limit", "55 °F") in cold(why("j1.port-as-she-lies")).numbers
    Outfit.objects.update(units="metric")
    assert ("limit", "12.8 °C") in cold(why("j1.port-as-she-lies")).numbers


def test_a_span_tells_its_numbers_from_the_least_to_the_most(job):
    """By the demo's own table of Tue 25 May gusts are 15 mph at noon and 18 at 15:00 where nothing shelters."""
    Place.objects.update(wind_factor=1.0)
    weather.judge(show_why.stage_named("j1.port-as-she-lies"))
    found = why("j1.port-as-she-lies").against
    gusts = [row for row in found if row.code == "gust" and row.numbers]
    assert gusts
    for row in gusts:
        (name, there), (limit, most) = row.numbers
        assert (name, limit) == ("Gusts", "limit")
        assert row.sentence.startswith("gust ")
        # The worst that the sentence tells is the most of the span, or comes while the film levels after it.
        worst = int(row.sentence.split()[1])
        assert int(there.split()[-2]) <= worst
        # Behind side-screens, by the sheet.
        assert most == "18 mph"
    assert any(" to " in row.numbers[0][1] for row in gusts)


def test_hours_tell_what_opens_and_closes_them(job):
    found = why("j1.port-as-she-lies")
    assert found.hours
    assert any("sun" in hour.before for hour in found.hours)


def test_what_only_waits_tells_the_reason_of_what_it_waits_for(job):
    left = [
        {"stage": "j1.prep", "code": "no-room", "why": "No place was found."},
        {"stage": "j1.mask", "code": "waits-for", "why": "It comes after j1.prep."},
    ]
    found = why("j1.mask", plans.draft([], left))
    assert found.left_out.startswith("It waits for what is left out before it: Wash")
    assert found.left_out.endswith("No place was found.")


def test_what_nobody_judged_is_unknown(job):
    stage = Stage.objects.get(key="mask")
    stage.judged.all().delete()
    found = why("j1.mask")
    assert found.fault
    assert found.hours == ()


def test_a_plugin_that_failed_is_told(job):
    Stage.objects.get(key="mask").judged.update(fault="The plugin did not answer.")
    assert why("j1.mask").fault == "The plugin did not answer"


def test_no_such_stage_is_refused(job):
    with pytest.raises(Refused, match="There is no stage called"):
        show_why.stage_named("j1.nothing")


def test_what_is_too_late_for_rain_or_dew_is_told_in_words_and_hours(job):
    told = {
        number for row in why("j1.port-as-she-lies").against for number in row.numbers
    }
    names = {name for name, _ in told}
    assert {"levels for", "rain-safe later than that by", "too late by"} <= names
    assert not any("-" in said for name, said in told if name == "too late by")
    assert ("levels for", "45 min") in told
