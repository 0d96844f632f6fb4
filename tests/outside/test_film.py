"""Film and area against identities of volume and a published rule of thumb."""

import pytest

from dispatch.trade import film
from dispatch.trade.film import Coverage, Topsides
from dispatch.trade.units import US_FL_OZ_ML, ft_to_m, oz_to_ml

COVERAGE = Coverage()
FT2_M2 = ft_to_m(1) ** 2
OZ_A_GALLON = 128


# 1 US gal of solids at 1 mil covers 231 in3 / 0.001 in / 144 = 1604.17 ft2: an identity, read on the page.
def test_a_gallon_covers_1604_square_feet_at_one_mil() -> None:
    mil_m = ft_to_m(1) / 12000
    gallon_m3 = OZ_A_GALLON * US_FL_OZ_ML / 1e6
    assert gallon_m3 / mil_m / FT2_M2 == pytest.approx(1604.17, abs=0.01)


# 1 L at 1 um covers 1000 m2, so a coat's ml on a square metre are its wet um: an identity.
def test_the_default_coat_is_a_wet_film_of_a_mil_and_a_half() -> None:
    wet_um = film.product_ml(1.0, coats=1, waste=1.0, coverage=COVERAGE)
    feet_a_gallon = OZ_A_GALLON / COVERAGE.oz_per_ft2_coat
    assert wet_um == pytest.approx(1604.17 / feet_a_gallon * 25.4, rel=1e-4)


# Wet film of 10 mil: 160.417 ft2 a gallon (wet film identity, read on the page).
def test_a_wet_film_of_ten_mil_takes_a_gallon_on_160_square_feet() -> None:
    thick = Coverage(oz_per_ft2_coat=OZ_A_GALLON / 160.417)
    gallon = film.product_ml(160.417 * FT2_M2, coats=1, waste=1.0, coverage=thick)
    assert gallon == pytest.approx(oz_to_ml(OZ_A_GALLON))
    wet_um = film.product_ml(1.0, coats=1, waste=1.0, coverage=thick)
    assert wet_um == pytest.approx(254, rel=1e-4)


# [common practice] Topsides = 2 (LOA + B) F, on several trade pages, good to 15-20 %:
# 10.0 x 3.3 x 1.2 m gives 31.92 m2 and 38 x 13 x 4.5 ft gives 459 ft2, bow and stern counted as a full beam.
@pytest.mark.parametrize(
    ("loa_m", "freeboard_m", "rule_m2"),
    [(10.0, 1.2, 31.92), (ft_to_m(38), ft_to_m(4.5), 459 * FT2_M2)],
)
def test_sides_and_transom_agree_with_the_rule_of_thumb(
    loa_m: float, freeboard_m: float, rule_m2: float
) -> None:
    hull = Topsides(length_m=loa_m, freeboard_m=freeboard_m)
    area = 2 * film.side_m2(hull) + film.transom_m2(hull)
    assert area == pytest.approx(rule_m2, rel=0.20)
