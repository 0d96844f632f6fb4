"""How much to mix at once. That a pot life halves with every 18 F more, and is never exceeded, is common practice."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dispatch.trade import cure, mixing
from dispatch.trade.mixing import Laying
from dispatch.trade.units import f_to_c

SIDE = Laying(product_ml=400, coats=2, coat_minutes=20, between_minutes=40)


# The invented two-part sheet's 3 h at 70 F: 2 h 07 at 79 F and 6 h at 52 F, worked out by hand.
@pytest.mark.parametrize(
    ("fahrenheit", "minutes"), [(70, 180), (79, 127.3), (52, 360), (88, 90)]
)
def test_pot_life_halves_with_every_eighteen_degrees(fahrenheit, minutes):
    found = cure.pot_life_minutes(3, f_to_c(fahrenheit))
    assert found == pytest.approx(minutes, abs=0.1)


@pytest.mark.parametrize(
    ("pot_minutes", "ml", "lasts"),
    [(80, 400, "visit"), (79, 200, "coat"), (20, 200, "coat"), (10, 100, "part")],
)
def test_no_more_than_fits(pot_minutes, ml, lasts):
    found = mixing.batch(SIDE, pot_minutes)
    assert (found.ml, found.lasts) == (pytest.approx(ml), lasts)


@settings(deadline=None)
@given(
    product_ml=st.floats(10, 5000),
    coats=st.integers(1, 3),
    coat_minutes=st.floats(1, 120),
    between_minutes=st.floats(0, 60),
    pot_minutes=st.floats(1, 600),
    warmer=st.floats(0, 1),
)
def test_a_batch_is_always_used_up_in_its_pot_life(
    product_ml, coats, coat_minutes, between_minutes, pot_minutes, warmer
):
    laying = Laying(
        product_ml=product_ml,
        coats=coats,
        coat_minutes=coat_minutes,
        between_minutes=between_minutes,
    )
    found = mixing.batch(laying, pot_minutes)
    per_minute = product_ml / coats / coat_minutes
    laid_in = laying.minutes if found.lasts == "visit" else found.ml / per_minute
    assert laid_in <= pot_minutes * (1 + 1e-9)
    assert 0 < found.ml <= product_ml
    shorter = max(pot_minutes * warmer, 0.01)
    assert mixing.batch(laying, shorter).ml <= found.ml * (1 + 1e-9)


def test_what_cannot_be_is_refused():
    with pytest.raises(ValueError, match="longer than nought"):
        mixing.batch(SIDE, 0)
    with pytest.raises(ValueError, match="at least one coat"):
        Laying(product_ml=0, coats=2, coat_minutes=20, between_minutes=0)
