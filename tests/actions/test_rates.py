"""Rates and limits: what may be set, by whom, and that what is set is what is gone by."""

import math

import pytest

from dispatch.actions import book, facts, rates, settings, sweeping, weather
from dispatch.actions.errors import Refused, Stranger
from dispatch.records.models import (
    Account,
    DueWork,
    HistoryEntry,
    JobKind,
    Person,
    Setting,
    Stage,
)
from tests.actions import shop

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner():
    shop.outfit()
    return Account.objects.create(username="orla", role="owner")


def value(name):
    return next(rate.value for rate in rates.listed() if rate.name == name)


def test_every_default_may_be_set_again(owner):
    for rate in rates.listed():
        settings.change(rate.name, rate.default, by=owner)
    assert Setting.objects.count() == len(rates.listed()) > 80


@pytest.mark.parametrize(
    ("name", "wrong"),
    [
        ("limits.rain_prob_pct", math.nan),
        ("limits.rain_prob_pct", math.inf),
        ("limits.rain_prob_pct", 100.5),
        ("limits.rain_prob_pct", -1),
        ("limits.rain_margin_minutes", 59),
        ("limits.rain_margin_least_minutes", 121),
        ("limits.confidence_factor", 0.9),
        ("labour.long_boat_ft", 0),
        ("labour.worth_of_third", 0),
        ("labour.worth_of_fourth", 0.93),
        ("coverage.electric_waste", 0.99),
        ("spray.air_min_c", 31.2),
        ("spray.surface_max_c", 1e7),
        ("spray.wind_max_ms", 6.3),
        ("spray.spread_min_k", -0.1),
        ("wipe-on.rh_min_pct", 76),
    ],
)
def test_a_value_that_means_nothing_is_refused_and_kept_out(owner, name, wrong):
    before = value(name)
    with pytest.raises(Refused, match=name):
        settings.change(name, wrong, by=owner)
    assert value(name) == before
    assert not HistoryEntry.objects.filter(verb="set").exists()


def test_an_unknown_name_is_refused(owner):
    with pytest.raises(Refused, match="no setting called spray"):
        settings.change("spray.luck", 1, by=owner)


def test_only_the_owner_sets(owner):
    person = Person.objects.create(key="rook", name="Rook", initials="R")
    crew = Account.objects.create(username="rook", role="crew", person=person)
    with pytest.raises(Stranger):
        settings.change("limits.rain_mm", 1, by=crew)


def test_a_change_is_in_the_history_with_its_reason(owner):
    settings.change("limits.rain_mm", 0.5, by=owner, why="gauge reads low")
    entry = HistoryEntry.objects.get(verb="set")
    assert (entry.subject, entry.why) == ("setting limits.rain_mm", "gauge reads low")


def test_a_familys_limit_is_what_its_stages_are_judged_by(owner):
    shop.catalogue()
    job = book.take_job(
        key="j1", boat=shop.boat(shop.driveway()), kind=JobKind.objects.get(key="wash")
    )
    stage = job.stages.get()
    settings.change(f"{stage.family}.wind_max_ms", 4.25, by=owner)
    work = facts.work(
        facts.open_stages().get(pk=stage.pk), weather.horizon(), rates.limits()
    )
    assert work.bounds.wind_max_ms == 4.25


@pytest.mark.parametrize(
    ("name", "again"), [("wash.wind_max_ms", True), ("labour.float_work", False)]
)
def test_a_limit_of_the_sky_has_the_book_judged_again(owner, name, again):
    shop.catalogue()
    book.take_job(
        key="j1", boat=shop.boat(shop.driveway()), kind=JobKind.objects.get(key="wash")
    )
    sweeping.sweep()
    settings.change(name, 2, by=owner)
    sweeping.sweep()
    judged = DueWork.objects.filter(verb="judge-stage", done_at__isnull=False)
    assert judged.count() == Stage.objects.count() * (2 if again else 1)
