"""Labour of a full coat on a 20 ft centre console, worked out by hand from its rates."""

from collections.abc import Sequence

import pytest

from dispatch.trade.labour import (
    Rates,
    Step,
    access_factor,
    clock_minutes,
    labour_minutes,
    length_factor,
)

RATES = Rates()
# Fixed minutes and minutes a foot: sign in, wash, strip, deoxidise, scuff, mask, wipe, sides, transom, rail, unmask.
DAY_ONE_2 = [(60, 0), (0, 5), (0, 3), (0, 9), (0, 4), (10, 5), (5, 1.5)]
DAY_ONE_4 = [(60, 0), (0, 8), (0, 6), (0, 18), (0, 6), (10, 5), (5, 1.5)]
COATS = [(0, 1.6), (0, 1.6), (12, 0), (0, 0.8)] * 2
UNMASK = [(0, 1.5)]
DAY_TWO_2 = [(30, 0), (10, 4), (10, 6), (20, 7), (15, 1.5), (40, 0)]
DAY_TWO_4 = [(30, 0), (10, 6), (10, 8), (20, 11), (15, 1.5), (40, 0)]
MEDIUM_REPAIR = (60, 0)


def total(rows: Sequence[tuple[float, float]], factor: float = 1.0) -> float:
    return sum(
        labour_minutes(fixed=fixed, per_ft=per_ft, length_ft=20, factor=factor)
        for fixed, per_ft in rows
    )


def test_a_dull_20_ft_boat_with_one_repair_takes_1394_labour_minutes() -> None:
    one, two = total([*DAY_ONE_2, *COATS, *UNMASK, MEDIUM_REPAIR]), total(DAY_TWO_2)
    assert one == pytest.approx(899)
    assert two == pytest.approx(495)
    hands = [clock_minutes((Step(labour_minutes=lm),), 2, RATES) for lm in (one, two)]
    assert hands == [pytest.approx(449.5), pytest.approx(247.5)]


def test_a_peeling_one_with_two_repairs_takes_1954() -> None:
    rows = [*DAY_ONE_4, *COATS, *UNMASK, MEDIUM_REPAIR, MEDIUM_REPAIR, *DAY_TWO_4]
    assert total(rows) == pytest.approx(1954)


@pytest.mark.parametrize(
    ("team", "minutes"), [(2, 90), (3, 65.2), (4, 54.9), (6, 54.9)]
)
def test_more_hands_help_less_and_a_step_holds_only_so_many(
    team: int, minutes: float
) -> None:
    deoxidise = Step(labour_minutes=180, crew_max=4)
    assert clock_minutes((deoxidise,), team, RATES) == pytest.approx(minutes, abs=0.05)


def test_waits_add_clock_and_no_hands_shorten_them() -> None:
    step = Step(labour_minutes=60, clock_minutes=34)
    assert clock_minutes((step,), 2, RATES) == pytest.approx(64)


def test_too_small_a_team_is_refused() -> None:
    with pytest.raises(ValueError, match="needs 2"):
        clock_minutes((Step(labour_minutes=32, crew_min=2),), 1, RATES)


def test_a_foot_of_a_long_boat_is_dearer_and_of_a_short_one_is_not() -> None:
    assert length_factor(18, RATES) == length_factor(24, RATES) == 1
    assert length_factor(30, RATES) == pytest.approx((30 / 24) ** 0.4)


def test_a_place_costs_by_its_worst_lack() -> None:
    assert access_factor(water=True, power=True, afloat=False, rates=RATES) == 1
    assert access_factor(water=False, power=False, afloat=False, rates=RATES) == 1.1
    assert access_factor(water=True, power=True, afloat=True, rates=RATES) == 1.3
