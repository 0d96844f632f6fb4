"""While a veto plugin rests its last answer counts, by its age: after "the last good answer is used, widening margins"."""

from datetime import timedelta

import pytest
from django.utils import timezone

from dispatch.actions import (
    last_answers,
    plugins,
    rejudging,
    show_board,
    show_why,
    sweeping,
    visit_sky,
    weather,
    windows,
)
from dispatch.hooks import guard
from dispatch.records.models import DueWork, Judged, Outfit, PluginState, Stage
from dispatch.trade.spans import Span
from tests.actions import plans

pytestmark = pytest.mark.django_db
WEEK = Span(plans.at(24, "00:00"), plans.at(31, "00:00"))


@pytest.fixture
def stages():
    plans.coat(plans.outfit())
    return Stage.objects.select_related("job__boat__place", "sheet")


@pytest.fixture
def broken(monkeypatch):
    """Every plugin's process fails from now on, and after three failures it rests."""

    def fail(*_args, now, conduct, **_more):
        if conduct.resting_until is not None and now < conduct.resting_until:
            return guard.Outcome(fault="It rests.", conduct=conduct, asked=False)
        return guard.Outcome(fault="Plugin weather_veto failed with KeyError: 'gust'")

    monkeypatch.setattr(guard, "call_apart", fail)


def hours_of(stage, span=WEEK):
    return [one.span for one in windows.of(stage, span)]


def test_one_that_failed_leaves_the_stage_unknown(stages, broken):
    wash = stages.get(key="mask")
    assert hours_of(wash)
    weather.judge(wash)
    again = stages.get(key="mask")
    assert hours_of(again) == []
    says = visit_sky.of(again, Span(*hours_like(again)), plans.at(24, "06:00"))
    assert says.word == visit_sky.UNKNOWN
    assert "KeyError" in says.why


def hours_like(stage):
    start = plans.at(25, "11:00")
    return start, start + timedelta(minutes=max(stage.minutes.values()))


def rest(stages, key="mask"):
    """Have the plugin fail three times at one stage, so that it rests."""
    for _ in range(guard.STRIKES):
        weather.judge(stages.get(key=key))
    assert PluginState.objects.get(name="weather_veto").resting_until > timezone.now()
    return stages.get(key=key)


def test_while_it_rests_what_it_told_last_counts(stages, broken):
    before = hours_of(stages.get(key="mask"))
    found = rest(stages)
    assert hours_of(found) == before
    assert "what it told Sun 23 May 19:00 counts" in last_answers.told(found)
    assert found.judged.get().fault.startswith("Weather veto failed")


def test_its_age_widens_what_it_forbade(stages, broken):
    """Past 6 h the margin of 2 h before rain grows by as much again each 12 h: at 18 h by 2 h, on both sides."""
    found = rest(stages)
    fresh = [row for row in found.vetoes.all() if row.end > WEEK.start]
    Outfit.objects.update(stands_at=plans.at(24, "13:00"))
    old = windows.against(stages.get(key="mask"), WEEK)
    more = timedelta(hours=2)
    wide = {(one.span.start, one.span.end) for one in old}
    assert fresh
    assert {(row.start - more, row.end + more) for row in fresh} <= wide
    assert all("told 18 h ago, so 120 min wider" in one.sentence for one in old)


def test_past_the_age_two_part_waits_for_the_owner(stages, broken):
    port = stages.get(key="port-as-she-lies")
    port.sheet.kind = "two-part"
    port.sheet.save()
    rest(stages, "port-as-she-lies")
    Outfit.objects.update(stands_at=plans.at(24, "07:30"))
    against = windows.against(stages.get(key="port-as-she-lies"), WEEK)
    (asked,) = [veto for veto in against if veto.code == "old-forecast"]
    assert asked.strength == "owner"
    assert "told this 12 h ago" in asked.sentence


def test_one_that_never_answered_stays_unknown(stages, broken):
    Judged.objects.all().delete()
    assert hours_of(rest(stages)) == []


def test_what_was_told_of_other_facts_counts_no_more(stages, broken):
    found = rest(stages)
    rejudging.again([found], "Her heading was read anew")
    assert hours_of(stages.get(key="mask")) == []


def test_it_is_asked_again_by_itself_once_it_is_rested(stages, broken, monkeypatch):
    found = rest(stages)
    (row,) = DueWork.objects.filter(verb=last_answers.VERB)
    assert row.due_at > timezone.now() + timedelta(minutes=4)
    monkeypatch.undo()
    PluginState.objects.update(resting_until=None, strikes=[])
    DueWork.objects.filter(pk=row.pk).update(due_at=timezone.now())
    sweeping.sweep("weather")
    assert Judged.objects.get(stage=found).fault == ""


def test_the_board_and_the_page_of_reasons_tell_it(stages, broken):
    found = rest(stages)
    plan = plans.draft([(25, "10:30", "15:30", [("j1.mask", "11:00", "12:40")])])
    snag = next(one for one in show_board.board(plan).snags if one.subject == "Plugins")
    assert "Weather veto is not asked for another" in snag.sentence
    assert "KeyError" in snag.sentence
    told = show_why.why(found, plan, WEEK)
    assert told.fault == ""
    assert "counts meanwhile" in told.last_told


def test_a_plugin_that_answers_again_is_as_before(stages, broken, monkeypatch):
    found = rest(stages)
    monkeypatch.undo()
    plugins.enable("weather_veto", {})
    weather.judge(found)
    now = stages.get(key="mask")
    assert (now.judged.get().fault, last_answers.told(now)) == ("", "")
