"""The sun dial: north up, east to the right."""

import pytest

from dispatch.web import dial


@pytest.mark.parametrize(
    ("azimuth", "place"),
    [(0, (120, 28)), (90, (212, 120)), (180, (120, 212)), (270, (28, 120))],
)
def test_a_bearing_lies_where_a_compass_card_has_it(azimuth, place):
    assert dial.on_ring(azimuth) == pytest.approx(place, abs=0.1)
