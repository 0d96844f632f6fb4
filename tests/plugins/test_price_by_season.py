"""Prices by the month, for boats that come back, and the least a job costs; sums worked out by hand."""

from dataclasses import replace
from datetime import date

import pytest

from dispatch.hooks import registry, testing
from dispatch.hooks.manifest import InvalidOption
from tests.plugins.asks import PRICE_ASK, found


def price(ask=PRICE_ASK, **options: object) -> list[tuple[str, int]]:
    answer = testing.answer(found("price_by_season"), options, "price", ask)
    return [(line.words, line.cents // 100) for line in answer.lines]


CATALOGUE = [("$68 a foot for 20 ft", 1360), ("1 medium repair", 160)]


def test_without_options_it_is_the_catalogues_price():
    assert price() == CATALOGUE


@pytest.mark.parametrize(
    ("promised", "added"),
    [
        # Priced in April, 10 % less; promised for May, 15 % more of 1,520.
        (None, [("10 % less in April (no day promised, priced 20 April)", -152)]),
        (
            (date(2027, 5, 28), date(2027, 6, 2)),
            [("15 % more in May (promised from 28 May)", 228)],
        ),
        (
            (date(2027, 6, 1), date(2027, 6, 2)),
            [("Nothing more or less in June (promised from 1 June)", 0)],
        ),
    ],
)
def test_the_month_of_the_first_promised_day_counts_and_is_told(promised, added):
    ask = replace(PRICE_ASK, promised=promised)
    assert price(ask, months="5 15\n4 -10") == CATALOGUE + added


def test_a_boat_that_comes_back_costs_less_of_the_price_with_its_month():
    ask = replace(PRICE_ASK, returning=True)
    told = price(ask, months="04 +10 %", returning_pct=5.0)
    assert told[2:] == [
        ("10 % more in April (no day promised, priced 20 April)", 152),
        ("5 % less, as she comes back", -84),
    ]
    assert price(returning_pct=5.0) == CATALOGUE


def test_no_job_costs_less_than_the_least():
    assert price(least=2000.0)[2:] == [("Up to the least a job costs", 480)]
    assert price(least=1500.0) == CATALOGUE


def test_without_a_price_of_the_catalogue_it_has_none():
    assert price(replace(PRICE_ASK, lines=()), least=500.0, months="4 10") == []


@pytest.mark.parametrize(
    ("options", "told"),
    [
        ({"months": "May 15"}, "option months: 'May 15' is not a month"),
        ({"months": "13 15"}, "'13 15' is not a month"),
        ({"months": "5 150"}, "at most 100"),
        ({"returning_pct": 120.0}, "returning_pct is no percent"),
        ({"least": -1.0}, "option least is no amount"),
    ],
)
def test_options_that_cannot_be_are_refused(options, told):
    with pytest.raises(InvalidOption, match=told):
        registry.validate(found("price_by_season"), options)
