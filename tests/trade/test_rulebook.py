"""Who may overrule what: limits of a sheet and of the yard nobody, assumptions of the house the owner."""

import re
from pathlib import Path

import pytest

from dispatch import trade
from dispatch.actions import place_rules
from dispatch.trade import rulebook
from dispatch.trade.rulebook import RULES, Rule

SOURCES = [
    path.read_text()
    for path in Path(trade.__file__).parent.glob("*.py")
    if path.name != "rulebook.py"
]


def test_every_rule_that_says_no_stands_in_the_book_and_every_one_in_it_is_used():
    used = {
        code
        for text in SOURCES
        for code in re.findall(r'strength\(\s*"([a-z-]+)"', text)
        + re.findall(r'rule\("([a-z-]+)"', text)
        + re.findall(r'\((?:over|under), "([a-z-]+)"', text)
        + re.findall(r'\(\s*(?:over|under),\s*"([a-z-]+)"', text)
        + re.findall(r'\(\s*"(gust|wind)",', text)
    }
    assert used | {place_rules.CODE} == set(RULES)


def test_no_condition_says_itself_who_may_overrule_it():
    assert not [text for text in SOURCES if re.search(r'strength="', text)]


@pytest.mark.parametrize("code", ["spread", "humid", "gust", "air-cold", "surface-hot"])
def test_what_a_sheet_limits_nobody_may_overrule(code):
    assert rulebook.strength(code, sheet=True) == "wall"
    assert rulebook.strength(code) == "owner"


def test_shade_and_dew_are_the_owners_and_drying_the_leads_whatever_the_sheet():
    assert rulebook.strength("sun", sheet=True) == "owner"
    assert rulebook.strength("dew-before-safe", sheet=True) == "owner"
    assert rulebook.strength("wet-hull", sheet=True) == "lead"
    assert RULES["sun"].lead_minutes == 20


@pytest.mark.parametrize("code", ["overspray", "rain-soon"])
def test_nobody_goes_below_the_least(code):
    assert rulebook.strength(code) == "owner"
    assert rulebook.strength(code, below_least=True) == "wall"
    assert RULES[code].least


@pytest.mark.parametrize("code", ["unknown", "no-heading"])
def test_what_is_not_known_nobody_may_call_known(code):
    assert rulebook.strength(code) == "wall"


def test_a_rule_of_a_strangers_plugin_has_no_source_here():
    assert rulebook.source("quiet-hours") == ""
    assert rulebook.source("sun").startswith("Common practice")


def test_walls_come_first_and_what_is_not_known_behind_them():
    def rule(code, strength):
        return Rule(code=code, name=code, strength=strength, source="x")

    found = rulebook.walls_first(
        [
            rule("wet-hull", "lead"),
            rule("unknown", "wall"),
            rule("sun", "owner"),
            rule("gust", "wall"),
        ]
    )
    assert [one.code for one in found] == ["gust", "unknown", "sun", "wet-hull"]


def test_a_strength_that_is_none_is_refused():
    with pytest.raises(ValueError, match="wall, owner, lead"):
        Rule(code="x", name="x", strength="nobody", source="x")
