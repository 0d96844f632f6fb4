"""A rule overruled: by whom it allows, with a reason, for one visit, until the numbers grow worse."""

import pytest

from dispatch.actions import overrides, overruling, plugins, ready, visit_sky, weather
from dispatch.actions.errors import Refused, Stranger
from dispatch.records.models import (
    DueWork,
    ForecastHour,
    HistoryEntry,
    Override,
    Skill,
    Visit,
)
from dispatch.trade.spans import Span
from dispatch.trade.units import mph_to_ms
from tests.actions import posted

pytestmark = pytest.mark.django_db
WHY = "A cloth hangs over that side"


@pytest.fixture
def visit():
    """Starboard of a boat that heads 085, to be sprayed on Monday at ten, in the sun as yet; it is nine and clear."""
    job = posted.sprayed()
    rook = posted.person("rook", "spray-1", "hose")
    forecast = posted.warm(job.boat.place)
    ForecastHour.objects.filter(forecast=forecast).update(cloud_pct=10)
    plugins.enable("weather_veto", {})
    posted.stand("09:00")
    job.stages.filter(key__in=("prep", "mask")).update(
        state="done", ended_at=posted.at("08:30")
    )
    stage = job.stages.get(key="starboard")
    made = posted.visit(posted.van_day(rook), stage, "10:00", 90)
    weather.judge(stage)
    return made


def owner():
    return posted.person("orla", role="owner").account


def word(visit) -> ready.Ready:
    return ready.of(Visit.objects.get(pk=visit.pk), posted.at("10:00"))


def windy(visit, mph: float) -> None:
    """Gusts of so much, without the place's shelter; judged."""
    factor = visit.stage.job.boat.place.wind_factor
    ForecastHour.objects.update(gust_ms=mph_to_ms(mph / factor))
    weather.judge(visit.stage)


def test_the_owner_overrules_the_sun_and_everybody_sees_who_and_why(visit):
    assert word(visit).sentence.startswith("starboard is in the sun")
    row = overruling.overrule(visit, "sun", by=owner(), why=WHY)
    assert (row.strength, row.who) == ("owner", "Orla")
    weather.judge(visit.stage)
    assert word(visit).word == "GO"
    assert word(visit).sentence.startswith(
        "No limit we know of is broken but what was overruled, from 10:00 to 11:30."
    )
    told = overrides.told(visit.stage, Span(visit.start, visit.end))
    assert told.startswith("Overruled by Orla: starboard is in the sun")
    assert told.endswith("Reason: A cloth hangs over that side.")
    entry = HistoryEntry.objects.get(verb="overrule")
    assert entry.why == "A cloth hangs over that side."
    assert "Orla overruled sun on the panel for Spray starboard" in entry.sentence


def test_until_it_is_judged_by_that_nothing_is_a_go(visit):
    overruling.overrule(visit, "sun", by=owner(), why=WHY)
    assert word(visit).word == "WAIT"
    assert DueWork.objects.filter(
        verb="judge-stage", key=str(visit.stage.pk), done_at=None
    ).exists()


def test_a_wall_behind_what_was_overruled_still_stands(visit):
    windy(visit, 20)
    overruling.overrule(visit, "sun", by=owner(), why=WHY)
    weather.judge(visit.stage)
    found = word(visit)
    assert found.word != "GO"
    assert found.sentence.startswith("gust 20 mph")
    assert found.overruled_by == "wall"


def test_a_limit_of_the_sheet_nobody_overrules(visit):
    ForecastHour.objects.update(cloud_pct=100)
    windy(visit, 20)
    with pytest.raises(Refused, match="Nobody may overrule this: gust 20 mph"):
        overruling.overrule(visit, "gust", by=owner(), why=WHY)
    assert not Override.objects.exists()


def test_it_lapses_when_the_numbers_grow_worse_and_holds_while_they_do_not(visit):
    stage = visit.stage
    stage.sheet.gust_max_ms = 60
    stage.sheet.wind_max_ms = 60
    stage.sheet.save()
    place = stage.job.boat.place
    place.neighbours = [{"what": "A car", "bearing_deg": 20, "distance_m": 8}]
    place.save()
    ForecastHour.objects.update(cloud_pct=100)
    windy(visit, 12)
    assert word(visit).sentence.startswith("A car stands")
    row = overruling.overrule(visit, "overspray", by=owner(), why="It is ours to wash")
    for mph, go in ((12, True), (11, True), (16, False)):
        windy(visit, mph)
        assert (word(visit).word == "GO") is go, mph
        (shown,) = overrides.decided(stage)
        assert shown.holds is go
    assert overrides.told(stage, Span(visit.start, visit.end)) == ""
    assert row.excess > 0


def test_the_fifteen_feet_all_round_nobody_overrules(visit):
    place = visit.stage.job.boat.place
    place.neighbours = [{"what": "A car", "bearing_deg": 20, "distance_m": 3}]
    place.save()
    ForecastHour.objects.update(cloud_pct=100)
    weather.judge(visit.stage)
    with pytest.raises(Refused, match="Nobody may overrule this: A car stands"):
        overruling.overrule(visit, "overspray", by=owner(), why=WHY)


def test_a_lead_who_rides_there_overrules_what_is_a_leads_and_no_more(visit):
    rook = visit.van_day.team.get(key="rook")
    with pytest.raises(Stranger, match="Ask the owner"):
        overruling.overrule(visit, "sun", by=rook.account, why=WHY)
    Skill.objects.create(person=rook, name="lead")
    with pytest.raises(Stranger, match="Ask the owner"):
        overruling.overrule(visit, "sun", by=rook.account, why=WHY)
    visit.stage.vetoes.update(code="wet-hull", strength="lead")
    row = overruling.overrule(visit, "wet-hull", by=rook.account, why="Wiped and blown")
    assert (row.who, row.strength) == ("Rook", "lead")


def test_a_lead_may_go_twenty_minutes_over_the_sun(visit):
    rook = visit.van_day.team.get(key="rook")
    Skill.objects.create(person=rook, name="lead")
    visit.stage.vetoes.filter(code="sun").update(
        start=posted.at("11:05"), end=posted.at("13:00")
    )
    with pytest.raises(Stranger):
        overruling.overrule(visit, "sun", by=rook.account, why=WHY)
    visit.stage.vetoes.filter(code="sun").update(start=posted.at("11:15"))
    assert overruling.overrule(visit, "sun", by=rook.account, why=WHY).who == "Rook"


def test_who_rides_elsewhere_or_not_at_all_overrules_nothing(visit):
    visit.stage.vetoes.update(code="wet-hull", strength="lead")
    eve = posted.person("eve", "lead")
    with pytest.raises(Stranger):
        overruling.overrule(visit, "wet-hull", by=eve.account, why=WHY)


@pytest.mark.parametrize("why", ["", "because", "x" * 401])
def test_a_reason_is_asked_for(visit, why):
    with pytest.raises(Refused, match="Say why"):
        overruling.overrule(visit, "sun", by=owner(), why=why)
    assert not Override.objects.exists()
    assert not HistoryEntry.objects.filter(verb="overrule").exists()


def test_what_does_not_stand_against_it_cannot_be_overruled(visit):
    with pytest.raises(Refused, match="does not stand against this visit"):
        overruling.overrule(visit, "rain", by=owner(), why=WHY)


def test_what_is_not_known_cannot_be_overruled(visit):
    ForecastHour.objects.all().delete()
    weather.judge(visit.stage)
    with pytest.raises(Refused, match="Nobody may overrule this"):
        overruling.overrule(visit, "unknown", by=owner(), why=WHY)


def test_the_owner_lets_a_rule_stand_again(visit):
    orla = owner()
    row = overruling.overrule(visit, "sun", by=orla, why=WHY)
    with pytest.raises(Stranger):
        overruling.take_back(row, by=visit.van_day.team.get(key="rook").account)
    overruling.take_back(row, by=orla)
    weather.judge(visit.stage)
    assert word(visit).word != "GO"
    assert HistoryEntry.objects.filter(verb="let-stand").exists()


def test_the_rules_that_may_be_overruled_are_listed_with_who_may(visit):
    (one,) = overrides.open_to(visit.stage, Span(visit.start, visit.end))
    assert (one.code, one.name, one.by) == ("sun", "Sun on the panel", "owner")
    windy(visit, 20)
    ForecastHour.objects.update(cloud_pct=100)
    weather.judge(visit.stage)
    assert overrides.open_to(visit.stage, Span(visit.start, visit.end)) == ()


def test_another_hour_of_the_same_stage_is_not_overruled(visit):
    overruling.overrule(visit, "sun", by=owner(), why=WHY)
    weather.judge(visit.stage)
    early = Span(posted.at("13:00"), posted.at("14:30"))
    assert visit_sky.of(visit.stage, early, posted.at("10:00")).word == "forbids"


def test_another_plugins_rule_may_be_overruled_by_the_owner_too(visit):
    visit.stage.vetoes.all().delete()
    visit.stage.vetoes.create(
        plugin="no_noise",
        edge="during",
        start=posted.at("09:00"),
        end=posted.at("10:30"),
        code="quiet-hours",
        sentence="the harbour is to be quiet before 10:30",
        strength="owner",
    )
    overruling.overrule(visit, "quiet-hours", by=owner(), why="The harbour agreed")
    visit.stage.judged.update(fault="")
    assert word(visit).word == "GO"
