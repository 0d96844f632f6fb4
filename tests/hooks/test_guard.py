"""Whatever a plugin does, the house goes on, and says who failed."""

import math
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from dispatch.hooks import guard
from dispatch.hooks.guard import REST, STRIKES, Conduct, Outcome
from dispatch.hooks.manifest import Option
from dispatch.hooks.registry import Found
from dispatch.hooks.specs import hookimpl
from dispatch.hooks.values import Complaint, ForecastAsk
from tests.hooks.strangers import (
    FORECAST_ASK,
    MORNING,
    forecast,
    installed,
    manifest,
    stranger,
)


def ask(one: Found, now: datetime = MORNING, conduct: Conduct | None = None) -> Outcome:
    return guard.call(
        one, {}, "forecast", FORECAST_ASK, now=now, conduct=conduct or Conduct()
    )


def fail(ask: ForecastAsk) -> object:
    raise KeyError("hourly")


def complain(ask: ForecastAsk) -> object:
    raise Complaint("the source says nothing of Pell Harbor; check its address.")


def leave(ask: ForecastAsk) -> object:
    raise SystemExit(3)


class Mute(Exception):  # noqa: N818 - an error that cannot be told
    def __str__(self) -> str:
        raise RuntimeError


class MuteComplaint(Mute, Complaint):
    pass


class Own(BaseException):
    pass


@pytest.mark.parametrize(
    ("error", "told"),
    [
        (Mute(), "failed with Mute: it does not say why"),
        (MuteComplaint(), "cannot answer: it does not say why"),
        (Own("gone"), "failed with Own: gone"),
        (GeneratorExit("closed"), "failed with GeneratorExit: closed"),
    ],
)
def test_no_kind_of_error_gets_past_the_guard(
    monkeypatch: pytest.MonkeyPatch, error: BaseException, told: str
) -> None:
    def throw(ask: ForecastAsk) -> object:
        raise error

    outcome = ask(stranger(monkeypatch, throw))
    assert outcome.fault == f"Plugin stranger {told}"
    assert outcome.conduct.strikes == (MORNING,)


def test_a_good_answer_is_handed_on(monkeypatch: pytest.MonkeyPatch) -> None:
    answer = forecast()
    outcome = ask(stranger(monkeypatch, lambda ask: answer))
    assert outcome == Outcome(answer=answer)


def test_a_plugin_is_made_with_its_options(monkeypatch: pytest.MonkeyPatch) -> None:
    given: list[object] = []
    one = installed(monkeypatch, given.append)
    ask(one)
    assert given == [{}]


@pytest.mark.parametrize(
    ("does", "told"),
    [
        (fail, "Plugin stranger failed with KeyError: 'hourly'"),
        (complain, "Plugin stranger cannot answer: the source says nothing of Pell"),
        (leave, "Plugin stranger failed with SystemExit: 3"),
        (lambda ask: None, "NoneType where ForecastAnswer is wanted"),
        (lambda ask: iter([forecast()]), "where ForecastAnswer is wanted"),
        (lambda ask: forecast(air_c=math.nan), "air_c is nan, which is no number"),
        (lambda ask: forecast(wind_ms=math.inf), "wind_ms is inf, which is no number"),
    ],
)
def test_a_failure_is_told_in_a_sentence_that_names_the_plugin(
    monkeypatch: pytest.MonkeyPatch, does: Callable[[ForecastAsk], object], told: str
) -> None:
    outcome = ask(stranger(monkeypatch, does))
    assert outcome.answer is None
    assert outcome.fault.startswith("Plugin stranger ")
    assert told in outcome.fault
    assert outcome.conduct.strikes == (MORNING,)


def test_a_fault_is_never_longer_than_a_page_can_show(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def shout(ask: ForecastAsk) -> object:
        raise RuntimeError("x" * 10**6)

    assert len(ask(stranger(monkeypatch, shout)).fault) < 600


def test_a_plugin_that_cannot_be_made_has_failed(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def broken(options: object) -> object:
        raise OSError("no such folder")

    assert "OSError: no such folder" in ask(installed(monkeypatch, broken)).fault


def test_a_wrong_option_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    one = stranger(monkeypatch, lambda ask: forecast())
    outcome = guard.call(
        one,
        {"colour": "red"},
        "forecast",
        FORECAST_ASK,
        now=MORNING,
        conduct=Conduct(),
    )
    assert "there is no option colour" in outcome.fault


def test_a_misspelt_hook_is_found_out(monkeypatch: pytest.MonkeyPatch) -> None:
    class Misspelt:
        @hookimpl
        def forcast(self, ask: ForecastAsk) -> object:
            return forecast()

    outcome = ask(installed(monkeypatch, lambda options: Misspelt()))
    assert "forcast" in outcome.fault


def test_a_hook_it_does_not_have_is_a_failure(monkeypatch: pytest.MonkeyPatch) -> None:
    outcome = ask(installed(monkeypatch, lambda options: object()))
    assert "does not have the hook forecast" in outcome.fault


def test_a_refused_plugin_is_not_called_and_gets_no_strike() -> None:
    one = Found(name="old", module="", refused="it was built for socket 0.")
    outcome = ask(one)
    assert outcome.fault == "Plugin old is not used: it was built for socket 0."
    assert not outcome.asked
    assert outcome.conduct == Conduct()


def calls(one: Found, *minutes: int, conduct: Conduct | None = None) -> Outcome:
    """Ask at each of these minutes, handing the conduct on."""
    now = Outcome(conduct=conduct or Conduct())
    for minute in minutes:
        now = ask(one, MORNING + timedelta(minutes=minute), now.conduct)
    return now


def test_two_failures_do_not_rest_it(monkeypatch: pytest.MonkeyPatch) -> None:
    assert calls(stranger(monkeypatch, fail), 0, 1).conduct.resting_until is None


def test_three_failures_within_ten_minutes_rest_it_for_fifteen(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    outcome = calls(stranger(monkeypatch, fail), 0, 4, 9)
    assert len(outcome.conduct.strikes) == STRIKES
    assert outcome.conduct.resting_until == MORNING + timedelta(minutes=9) + REST


def test_failures_far_apart_do_not_rest_it(monkeypatch: pytest.MonkeyPatch) -> None:
    outcome = calls(stranger(monkeypatch, fail), 0, 5, 10)
    assert outcome.conduct.resting_until is None
    assert len(outcome.conduct.strikes) == 2


def test_a_success_between_failures_does_not_wash_them_off(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    turns = iter([fail, lambda ask: forecast(), fail, fail])

    def moody(ask: ForecastAsk) -> object:
        return next(turns)(ask)

    outcome = calls(stranger(monkeypatch, moody), 0, 1, 2, 3)
    assert outcome.conduct.resting_until is not None


def test_while_it_rests_it_is_not_called_and_its_conduct_stays(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    called: list[ForecastAsk] = []
    one = stranger(monkeypatch, lambda ask: called.append(ask) or forecast())
    resting = Conduct(resting_until=MORNING + timedelta(minutes=15))
    outcome = ask(one, MORNING + timedelta(minutes=14), resting)
    assert called == []
    assert not outcome.asked
    assert outcome.conduct == resting
    assert (
        outcome.fault == "Plugin stranger rests for up to 1 min more, after 3 failures."
    )


def test_after_its_rest_it_is_called_again_with_a_clean_sheet(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    rested = calls(stranger(monkeypatch, fail), 0, 1, 2).conduct
    outcome = calls(stranger(monkeypatch, lambda ask: forecast()), 17, conduct=rested)
    assert outcome.answer == forecast()
    assert outcome.conduct == Conduct()


def test_an_interrupt_from_the_keyboard_goes_through(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def interrupted(ask: ForecastAsk) -> Iterator[object]:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        ask(stranger(monkeypatch, interrupted))


@pytest.mark.parametrize(
    ("does", "untouched"),
    [(complain, True), (fail, False), (lambda ask: None, False), (leave, False)],
)
def test_only_what_a_plugin_says_itself_leaves_a_message_certainly_unsent(
    monkeypatch: pytest.MonkeyPatch,
    does: Callable[[ForecastAsk], object],
    untouched: bool,
) -> None:
    assert ask(stranger(monkeypatch, does)).untouched is untouched


def test_a_plugin_that_rests_or_is_refused_touches_nothing(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    resting = Conduct(resting_until=MORNING + timedelta(minutes=1))
    assert ask(stranger(monkeypatch, fail), MORNING, resting).untouched
    assert ask(Found(name="old", module="", refused="it is old.")).untouched


def test_a_secret_that_an_error_or_an_answer_repeats_is_blotted_out(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def refuse(ask: ForecastAsk) -> object:
        raise Complaint("https://gateway.test/?word=cedar was refused.")

    word = Option(name="word", kind="secret", says="the password")
    one = replace(stranger(monkeypatch, refuse), manifest=manifest(options=(word,)))
    outcome = guard.call(
        one,
        {"word": "cedar"},
        "forecast",
        FORECAST_ASK,
        now=MORNING,
        conduct=Conduct(),
    )
    assert "cedar" not in outcome.fault
    assert "word=[secret] was refused" in outcome.fault
