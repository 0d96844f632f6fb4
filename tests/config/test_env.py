"""A variable is right, absent, or refused with a sentence that names it."""

import pytest
from django.core.exceptions import ImproperlyConfigured

from dispatch.config import env


def test_an_absent_or_blank_variable_gives_the_default(monkeypatch):
    monkeypatch.delenv("PROBE", raising=False)
    assert env.text("PROBE", "x") == "x"
    monkeypatch.setenv("PROBE", "  ")
    assert env.text("PROBE", "x") == "x"
    assert env.number("PROBE", 3, least=1, most=9) == 3
    assert env.flag("PROBE", default=True) is True


@pytest.mark.parametrize("raw", ["0", "10", "-1", "2.5", "two", "\u0661"])
def test_a_wrong_number_is_refused(monkeypatch, raw):
    monkeypatch.setenv("PROBE", raw)
    with pytest.raises(ImproperlyConfigured, match=r"PROBE is .* from 1 to 9"):
        env.number("PROBE", 3, least=1, most=9)


@pytest.mark.parametrize(
    ("raw", "meant"), [("yes", True), ("ON", True), ("0", False), ("No", False)]
)
def test_yes_and_no_are_read_in_their_common_spellings(monkeypatch, raw, meant):
    monkeypatch.setenv("PROBE", raw)
    assert env.flag("PROBE", default=not meant) is meant


def test_any_other_word_is_refused(monkeypatch):
    monkeypatch.setenv("PROBE", "perhaps")
    with pytest.raises(
        ImproperlyConfigured, match="PROBE is 'perhaps': give yes or no"
    ):
        env.flag("PROBE", default=True)
