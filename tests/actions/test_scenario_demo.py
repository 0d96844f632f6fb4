"""The demo's own files, loaded once: what stands in the house after it."""

from collections.abc import Iterator
from datetime import UTC, datetime, time
from pathlib import Path

import pytest
from django.db import transaction
from django.test import override_settings

from dispatch.actions import scenario
from dispatch.records.models import (
    AccessHours,
    Account,
    Boat,
    Closure,
    DueWork,
    Job,
    KeptApart,
    Outfit,
    PluginState,
    Sheet,
    Skill,
    Stage,
    Standing,
)
from tests.actions.test_scenario import FIXTURES, PASSWORDS, PEOPLE

QUICK = {"PASSWORD_HASHERS": ["django.contrib.auth.hashers.MD5PasswordHasher"]}


@pytest.fixture(scope="module", autouse=True)
def demo(django_db_setup: None, django_db_blocker: object) -> Iterator[None]:
    """The demo stands while these tests read it, each of them nothing else, and leaves the tables empty."""
    with django_db_blocker.unblock(), transaction.atomic(), override_settings(**QUICK):
        scenario.load(FIXTURES / "demo", passwords=PASSWORDS)
        yield
        transaction.set_rollback(True)


def test_the_demo_loads_whole() -> None:
    assert Outfit.objects.get().stands_at == datetime(2027, 5, 23, 23, tzinfo=UTC)
    assert set(Job.objects.values_list("key", flat=True)) == {
        f"j{number}" for number in range(1, 15)
    }
    assert all(job.stages.exists() for job in Job.objects.all())
    assert Boat.objects.get(key="plain-jane").length_m == pytest.approx(22 * 0.3048)
    shed = Standing.objects.get(equipment__key="the-shed")
    assert (shed.place.key, shed.since) == (
        "s7",
        datetime(2027, 5, 22, 22, tzinfo=UTC),
    )
    apart = KeptApart.objects.get()
    assert {apart.first.key, apart.second.key} == {"jonah", "rook"}


def test_work_done_before_is_done_when_it_happened() -> None:
    done = Stage.objects.get(state=Stage.State.DONE)
    assert (done.job.key, done.key) == ("j2", "prep")
    assert done.ended_at == datetime(2027, 5, 22, 18, 30, tzinfo=UTC)


def test_everybody_gets_an_account_and_only_orla_is_the_owner() -> None:
    owners = Account.objects.filter(role=Account.Role.OWNER)
    assert [owner.username for owner in owners] == ["orla"]
    assert set(Account.objects.values_list("username", flat=True)) == set(PEOPLE)
    rook = Account.objects.get(username="rook")
    assert rook.check_password(PASSWORDS["rook"])
    assert rook.person is not None


def test_only_those_with_a_fit_test_wear_a_hood_or_spray_two_part() -> None:
    bound = Skill.objects.filter(name__in=("hood", "spray-2"))
    assert bound.exists()
    assert all(skill.fit_test_until for skill in bound)
    assert not bound.filter(person__not_alone=True).exists()


def test_yards_are_shut_to_contractors_from_friday_noon_to_tuesday() -> None:
    shut = Closure.objects.filter(kind=Closure.Kind.SHUT)
    assert set(shut.values_list("place__key", flat=True)) == {"s1", "s2", "s3", "s4"}
    assert set(shut.values_list("start", "end")) == {
        (
            datetime(2027, 5, 28, 16, tzinfo=UTC),
            datetime(2027, 6, 1, 11, 30, tzinfo=UTC),
        )
    }


def test_floats_are_usable_three_hours_either_side_of_high_water() -> None:
    tides = Closure.objects.filter(kind=Closure.Kind.TIDE, place__key="s3")
    high = datetime(2027, 5, 24, 13, 10, tzinfo=UTC)  # Monday 09:10 by the clock there
    before = tides.filter(end__lte=high).latest("end")
    after = tides.filter(start__gte=high).earliest("start")
    assert (high - before.end).total_seconds() == 3 * 3600
    assert (after.start - high).total_seconds() == 3 * 3600


def test_hours_are_stored_for_each_weekday() -> None:
    hours = AccessHours.objects.filter(place__key="s1")
    assert [row.weekday for row in hours] == [0, 1, 2, 3, 4, 5]
    assert (hours[5].start, hours[5].end) == (time(9), time(15))


def test_limits_of_a_sheet_are_stored_unrounded() -> None:
    one = Sheet.objects.get(key="lanternglass-one")
    # 55 F and 14 mph by the definitions of the Fahrenheit degree and the statute mile (NIST SP 811).
    assert one.air_min_c == pytest.approx((55 - 32) * 5 / 9, rel=1e-12)
    assert one.gust_max_ms == pytest.approx(14 * 0.44704, rel=1e-12)


def test_plugins_are_enabled_with_the_scenarios_own_folder() -> None:
    options = PluginState.objects.get(name="weather_file", enabled=True).options
    assert (Path(options["folder"]) / options["file"]).is_file()


def test_a_plugin_that_tells_drives_is_asked_at_once():
    assert DueWork.objects.filter(verb="measure-drives", done_at=None).exists()
