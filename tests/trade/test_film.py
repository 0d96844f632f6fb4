"""Area and product of the sizes of boat the outfit knows."""

import pytest

from dispatch.trade import film
from dispatch.trade.film import Coverage, Topsides
from dispatch.trade.units import ft_to_m, ml_to_oz, oz_to_ml

COVERAGE = Coverage()


def two_coats_oz(feet: float, waste: float = 1.0) -> float:
    hull = Topsides(length_m=ft_to_m(feet))
    area = 2 * film.side_m2(hull) + film.transom_m2(hull)
    return ml_to_oz(film.product_ml(area, coats=2, waste=waste, coverage=COVERAGE))


@pytest.mark.parametrize(
    ("feet", "ounces"), [(20, 32.1), (24, 42.5), (30, 59.9), (38, 86.4)]
)
def test_a_longer_hull_is_also_higher(feet: float, ounces: float) -> None:
    assert two_coats_oz(feet) == pytest.approx(ounces, abs=0.5)


def test_30_ft_with_its_reserve_needs_three_cans() -> None:
    need = oz_to_ml(two_coats_oz(30) * (1 + COVERAGE.carry_reserve))
    assert ml_to_oz(need) == pytest.approx(65.9, abs=0.5)
    assert film.packs_to_buy(need, 0, oz_to_ml(32)) == 3


def test_cans_at_hand_are_not_bought_again() -> None:
    assert film.packs_to_buy(oz_to_ml(175), oz_to_ml(128), oz_to_ml(32)) == 2
    assert film.packs_to_buy(oz_to_ml(64), oz_to_ml(64), oz_to_ml(32)) == 0


def test_a_known_freeboard_is_believed() -> None:
    low = Topsides(length_m=6, freeboard_m=0.5)
    assert film.side_m2(low) == pytest.approx(3.0)


def test_less_than_the_hull_takes_is_refused() -> None:
    with pytest.raises(ValueError, match="below 1"):
        film.product_ml(10, coats=2, waste=0.9, coverage=COVERAGE)


@pytest.mark.parametrize("length", [0, -1])
def test_a_hull_without_length_is_refused(length: float) -> None:
    with pytest.raises(ValueError, match="above zero"):
        Topsides(length_m=length)
