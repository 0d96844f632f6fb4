"""The contract checks find what an author would get wrong."""

import pytest

from dispatch.hooks import testing
from dispatch.hooks.manifest import Option
from dispatch.hooks.registry import Found
from dispatch.hooks.specs import hookimpl
from dispatch.hooks.values import ForecastAsk
from tests.hooks.strangers import (
    FORECAST_ASK,
    Stranger,
    forecast,
    installed,
    manifest,
    stranger,
)

README = "# stranger\n\nAnswers the hook `forecast`.\n"


class Idle:
    @hookimpl
    def send(self, message: object) -> object:
        raise NotImplementedError


def changed(monkeypatch: pytest.MonkeyPatch, **changes: object) -> Found:
    one = installed(monkeypatch, lambda options: Stranger(lambda ask: forecast()))
    return Found(name=one.name, module=one.module, manifest=manifest(**changes))


def test_a_good_plugin_has_no_complaints(monkeypatch: pytest.MonkeyPatch) -> None:
    one = stranger(monkeypatch, lambda ask: forecast())
    assert testing.complaints(one, {}, README) == ()
    assert testing.answer(one, {}, "forecast", FORECAST_ASK) == forecast()


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"version": "newest"}, "version 'newest'"),
        ({"hooks": ()}, "answers no hook"),
        ({"hooks": ("forecast", "vetoes")}, "its manifest says forecast, vetoes"),
        ({"hooks": ("send",)}, "does not name the hook send"),
        ({"summary": ""}, "summary"),
        (
            {"options": (Option(name="key", kind="text", says="a key", default=""),)},
            "no row for the option key",
        ),
        (
            {"options": (Option(name="a", kind="text", says="a", default=""),) * 2},
            "two options have one name",
        ),
    ],
)
def test_a_breach_is_told(
    monkeypatch: pytest.MonkeyPatch, changes: dict[str, object], told: str
) -> None:
    found = testing.complaints(changed(monkeypatch, **changes), {}, README)
    assert any(told in complaint for complaint in found)


def test_an_object_that_answers_another_hook_is_told(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    one = installed(monkeypatch, lambda options: Idle())
    assert testing.complaints(one, {}, README) == (
        "it answers send; its manifest says forecast.",
    )


def test_a_refused_plugin_is_one_complaint() -> None:
    one = Found(name="old", module="", refused="it was built for socket 0.")
    assert testing.complaints(one, {}, "") == (
        "old is refused: it was built for socket 0.",
    )


def test_a_fault_is_raised_to_the_author(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(ask: ForecastAsk) -> object:
        raise KeyError("hourly")

    with pytest.raises(testing.Broken, match="failed with KeyError"):
        testing.answer(stranger(monkeypatch, fail), {}, "forecast", FORECAST_ASK)
