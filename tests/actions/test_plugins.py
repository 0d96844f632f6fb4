"""A plugin is asked in a process of its own; failures are counted, it rests, and what it said last stands."""

from datetime import timedelta
from threading import Event
from time import monotonic

import pytest
from django.utils import timezone

from dispatch.actions import clock, facts, plugins, show_board, weather
from dispatch.actions.errors import Refused
from dispatch.hooks import guard, registry
from dispatch.hooks.values import Complaint, ForecastAnswer
from dispatch.records.models import Forecast, PluginState
from dispatch.trade.sky import SkyHour
from tests.actions import plans, shop
from tests.hooks.strangers import stranger

pytestmark = pytest.mark.django_db


def answer(ask, age=timedelta(hours=1)):
    """Two hours of the ask's own span, issued before it."""
    start = ask.span.start.replace(minute=0, second=0, microsecond=0)
    hours = [SkyHour(at=start + timedelta(hours=n), air_c=15.0) for n in (6, 7)]
    return ForecastAnswer(issued_at=start - age, hours=tuple(hours), keep="seen")


def hang(ask):
    Event().wait(60)


def complain(ask):
    raise Complaint("the source is away; try later.")


@pytest.fixture
def place():
    shop.outfit()
    return shop.driveway()


@pytest.fixture
def install(monkeypatch):
    """Put a plugin in the place of every other, and enable it."""
    monkeypatch.setattr(guard, "LIMIT_S", 0.4)

    def with_hook(does):
        one = stranger(monkeypatch, does)
        monkeypatch.setattr(registry, "found", lambda: (one,))
        plugins.enable(one.name, {})
        return PluginState.objects.get(name=one.name)

    return with_hook


def test_one_that_hangs_is_ended_and_its_place_stays_unknown(place, install):
    install(hang)
    began = monotonic()
    with pytest.raises(Refused, match=r"Stranger did not answer within 0\.4 s and was"):
        weather.take_in(place)
    # It would hang for a minute.
    assert monotonic() - began < 30
    assert facts.latest_forecast(place, timezone.now()) is None
    state = PluginState.objects.get()
    assert len(state.strikes) == 1
    assert "did not answer" in state.last_fault


def test_three_failures_rest_it_a_quarter_of_an_hour(place, install):
    install(complain)
    for _ in range(3):
        with pytest.raises(Refused, match="the source is away"):
            weather.take_in(place)
    with pytest.raises(Refused, match=r"^Stranger rests for up to 15 min more, after"):
        weather.take_in(place)
    left = PluginState.objects.get().resting_until - timezone.now()
    assert timedelta(minutes=14) < left <= timedelta(minutes=15)


def test_failures_of_two_workers_are_counted_together(place, install):
    first = install(complain)
    second = PluginState.objects.get(pk=first.pk)
    third = PluginState.objects.get(pk=first.pk)
    for stale in (first, second, third):
        plugins.ask(stale, "forecast", weather._ask(place, "stranger"))
    state = PluginState.objects.get()
    assert len(state.strikes) == 3
    assert state.resting_until is not None


def test_an_answer_that_was_under_way_does_not_wake_it(place, install):
    stale = install(answer)
    until = timezone.now() + timedelta(minutes=10)
    PluginState.objects.update(resting_until=until)
    assert not plugins.ask(stale, "forecast", weather._ask(place, "stranger")).fault
    assert PluginState.objects.get().resting_until == until


def test_while_it_rests_the_last_good_answer_stands_with_its_age(install):
    place = plans.outfit()
    plans.coat(place)
    Forecast.objects.all().delete()
    install(lambda ask: answer(ask, age=timedelta(hours=20)))
    good = weather.take_in(place)
    install(complain)
    for _ in range(4):
        with pytest.raises(Refused):
            weather.take_in(place)
    assert PluginState.objects.get(name="stranger").resting_until is not None
    assert facts.latest_forecast(place, clock.now()) == good
    prep = (24, "10:30", "15:30", [("j1.prep", "11:00", "15:30")])
    board = show_board.board(plans.draft([prep]))
    assert board.sky.issued_at == good.issued_at
    assert [hour.air_c for hour in board.sky.hours] == [15.0, 15.0]
    assert any("The forecast is 20 h old" in snag.sentence for snag in board.snags)


def test_what_a_source_wants_to_know_again_comes_back_to_it(place, install):
    def echo(ask):
        if ask.kept == "seen":
            issued_at = ask.span.start
            return ForecastAnswer(issued_at=issued_at, hours=(), unchanged=True)
        return answer(ask)

    install(echo)
    first = weather.take_in(place)
    assert first.kept == "seen"
    assert weather.take_in(place) == first
    assert Forecast.objects.count() == 1
    assert first.hours.count() == 2
