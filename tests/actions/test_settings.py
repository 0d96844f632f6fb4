"""Several settings at once: all or nothing, back to the default, and what is left for the worker."""

from datetime import timedelta

import pytest

from dispatch.actions import (
    access,
    book,
    clock,
    facts,
    rates,
    reporting,
    settings,
    sweeping,
    weather,
)
from dispatch.actions.errors import Refused, Stranger
from dispatch.notices import quiet
from dispatch.records.models import (
    Account,
    Customer,
    DueWork,
    HistoryEntry,
    Job,
    JobKind,
    Notice,
    Outfit,
    Setting,
    StageLink,
)
from tests.actions import posted, shop

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner():
    shop.outfit()
    return Account.objects.create(username="orla", role="owner")


def value(name):
    return next(rate.value for rate in rates.listed() if rate.name == name)


def sentences():
    return [row.sentence for row in HistoryEntry.objects.filter(verb="set")]


def test_one_bad_value_keeps_all_of_them_out(owner):
    given = {"spray.air_min_c": 15.0, "spray.rh_max_pct": 101.0}
    with pytest.raises(Refused, match=r"spray\.rh_max_pct"):
        settings.change_all(given, by=owner)
    assert list(settings.faults(given)) == ["spray.rh_max_pct"]
    assert not Setting.objects.exists()
    assert sentences() == []
    assert not DueWork.objects.exists()


def test_a_pair_may_be_moved_together_where_one_alone_would_turn_it_round(owner):
    high = {"polish.air_min_c": 35.0}
    with pytest.raises(Refused, match="must not be above"):
        settings.change_all(high, by=owner)
    settings.change_all(high | {"polish.air_max_c": 40.0}, by=owner)
    assert (value("polish.air_min_c"), value("polish.air_max_c")) == (35, 40)


def test_back_to_the_default_takes_the_row_away_and_is_told(owner):
    settings.change("spray.wind_max_ms", 4.0, by=owner)
    settings.change_all({"spray.wind_max_ms": None}, by=owner, why="enough of that")
    assert not Setting.objects.exists()
    assert sentences() == [
        "Spray: “Steady wind at most” now 10 mph, its default (was 8.948 mph).",
        "Spray: “Steady wind at most” now 8.948 mph (was 10 mph).",
    ]


def test_the_history_speaks_the_outfits_units(owner):
    Outfit.objects.update(units="metric")
    settings.change("spray.air_min_c", 14.0, by=owner)
    assert sentences() == ["Spray: “Air at least” now 14 °C (was 12.78 °C)."]


@pytest.mark.parametrize(
    ("name", "wrong"),
    [
        # Fifteen feet: nobody may go below it (trade rule for overspray).
        ("limits.drift_base_m", 4.5),
        # The margin before rain may be cut to an hour, no further.
        ("limits.rain_margin_least_minutes", 59),
        # Half an hour's break by the sixth hour (common practice).
        ("day.break_minutes", 29),
        ("limits.drift_electric", 0.9),
        ("shape.cabin", 0),
        ("day.break_after_minutes", 361),
    ],
)
def test_what_nobody_may_go_below_holds_for_the_owner_too(owner, name, wrong):
    with pytest.raises(Refused, match=name):
        settings.change(name, wrong, by=owner)


def test_nobody_else_sets(owner):
    crew = posted.person("rook").account
    with pytest.raises(Stranger):
        settings.change_all({"labour.generator": 1.2}, by=crew)


def test_a_labour_rate_reckons_the_book_again_but_what_is_posted_stays(owner):
    shop.catalogue()
    kind = JobKind.objects.get(key="wash")
    place = shop.driveway(power=False)
    free = book.take_job(key="j1", boat=shop.boat(place), kind=kind)
    kept = book.take_job(
        key="j2", boat=shop.boat(place, key="curlew", name="Curlew"), kind=kind
    )
    rider = posted.person("rook")
    posted.visit(posted.van_day(rider), kept.stages.get(), "09:00")
    before = free.stages.get().minutes
    assert kept.stages.get().minutes == before
    settings.change("labour.generator", 2.0, by=owner)
    sweeping.sweep()
    assert free.stages.get().minutes["1"] > before["1"]
    assert kept.stages.get().minutes == before
    told = HistoryEntry.objects.get(verb="refigure")
    assert told.subject == "job j1"
    assert "1 of its stages, from" in told.sentence
    again = DueWork.objects.filter(verb="judge-stage", key=str(free.stages.get().pk))
    assert again.exists()


def test_a_job_that_could_no_longer_be_done_keeps_what_it_has_and_says_why(owner):
    shop.catalogue()
    kind = JobKind.objects.get(key="wash")
    job = book.take_job(key="j1", boat=shop.boat(shop.driveway(), feet=80), kind=kind)
    before = job.stages.get().minutes
    settings.change("day.longest_visit_minutes", 60, by=owner)
    settings.change("shape.centre-console", 20, by=owner)
    sweeping.sweep()
    assert job.stages.get().minutes == before
    fault = DueWork.objects.filter(verb="refigure-job").exclude(fault="").first()
    assert "more than the 60 of a day" in fault.fault


def test_how_long_a_fill_is_left_reaches_jobs_in_the_book(owner):
    shop.catalogue()
    shop.one_part(key="gel", name="Gel", kind="gelcoat")
    job = book.take_job(
        key="j1",
        boat=shop.boat(shop.driveway()),
        kind=JobKind.objects.get(key="gelcoat-repair"),
        repairs={"M": 1},
    )
    # A medium fill is left 90 minutes at 70 F (common practice).
    assert StageLink.objects.get(stage__job=job).min_ref_h == 1.5
    settings.change("extras.medium_fill_ref_h", 2.0, by=owner)
    sweeping.sweep()
    assert StageLink.objects.get(stage__job=job).min_ref_h == 2.0


def test_water_and_roads_are_gone_by_as_set(owner):
    shop.catalogue()
    settings.change_all({"water.wash.wash": 10.0, "travel.circuity": 2.0}, by=owner)
    job = book.take_job(
        key="j1",
        boat=shop.boat(shop.driveway(water=False)),
        kind=JobKind.objects.get(key="wash"),
    )
    assert job.stages.get().supplies == {"water_l": 200}
    assert rates.roads().circuity == 2.0


def test_how_soon_spraying_follows_masking_reaches_jobs_in_the_book(owner):
    Outfit.objects.all().delete()
    job = posted.sprayed()
    spray = StageLink.objects.filter(stage__job=job, before__key="mask")
    # Masking is used within 8 hours (common practice).
    assert set(spray.values_list("max_minutes", flat=True)) == {480}
    settings.change("waits.spray-coat.port.mask", 240, by=owner)
    sweeping.sweep()
    port = spray.filter(stage__panels=["port"])
    assert set(port.values_list("max_minutes", flat=True)) == {240}
    told = HistoryEntry.objects.get(verb="refigure").sentence
    assert told == "Reckoned Second Wind again by the new rates: 1 of its waits."


def test_how_a_hull_lies_in_the_air_and_the_sun_is_gone_by_as_set(owner):
    Outfit.objects.all().delete()
    job = posted.sprayed()
    settings.change_all(
        {"surface.clear_night_k": -4.0, "limits.flare_deg": 20.0}, by=owner
    )
    stage = facts.open_stages().get(job=job, panels=["port"])
    work = facts.work(stage, weather.horizon(), rates.limits())
    assert work.surface_model.clear_night_k == -4
    assert work.hull.flare_deg == 20
    assert DueWork.objects.filter(verb="judge-book").exists()


def test_a_warning_of_wet_film_keeps_the_hours_that_are_set(owner):
    Outfit.objects.all().delete()
    job = posted.sprayed()
    posted.warm(job.boat.place)
    Customer.objects.update(phone="+12075550131", text_consent=True)
    stage, rider = job.stages.get(key="port"), posted.person("rook")
    posted.visit(posted.van_day(rider), stage, "11:00", 90)
    posted.stand("23:10")
    settings.change("customers.wet_from_clock", 450, by=owner)
    reporting.finish(stage, rider, posted.at("22:00"))
    tuesday = posted.MONDAY + timedelta(days=1)
    assert Notice.objects.get().due_at == posted.at("07:30", tuesday)


@pytest.mark.parametrize(
    ("name", "wrong"),
    [
        # Nobody is written to before eight or after nine by their own clock (usual practice, from memory).
        ("customers.from_clock", 479),
        ("customers.until_clock", 1261),
        ("customers.wet_from_clock", 419),
    ],
)
def test_nobody_is_written_to_at_night_whatever_is_set(owner, name, wrong):
    with pytest.raises(Refused, match=name):
        settings.change(name, wrong, by=owner)


def test_the_hours_by_default_are_those_the_outbox_knows():
    usual, terms = quiet.USUAL, rates.Customers()
    assert usual.opens == clock.of_day(terms.from_clock)
    assert usual.closes == clock.of_day(terms.until_clock)


def test_how_long_a_boats_page_stays_open_is_gone_by_as_set(owner):
    Outfit.objects.all().delete()
    job = posted.sprayed()
    word = access.boat_link(job)
    ended = clock.now() - timedelta(days=40)
    Job.objects.update(state="handed-back", handed_back_at=ended)
    assert access.job_of_link(word) == job
    settings.change("customers.link_days", 30, by=owner)
    with pytest.raises(Stranger, match="run out"):
        access.job_of_link(word)
