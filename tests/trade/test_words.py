"""Numbers in words: a value and its limit never read the same where one is past the other."""

import pytest

from dispatch.trade.units import df_to_dk, f_to_c, mph_to_ms
from dispatch.trade.words import Words, apart


@pytest.mark.parametrize(
    ("there", "limit", "said"),
    [
        (61.3, 55.0, ("61 °F", "55 °F")),
        (54.9, 55.0, ("54.9 °F", "55.0 °F")),
        (54.98, 55.0, ("54.98 °F", "55.00 °F")),
        (55.0, 55.0, ("55 °F", "55 °F")),
    ],
)
def test_degrees_get_the_decimals_that_tell_them_apart(there, limit, said):
    assert apart(Words().degrees, f_to_c(there), f_to_c(limit)) == said


def test_so_do_differences_and_winds_in_either_system():
    us, metric = Words(), Words(system="metric")
    spread = df_to_dk(4.8), df_to_dk(5.0)
    assert apart(us.difference, *spread) == ("4.8 °F", "5.0 °F")
    assert apart(metric.difference, 2.74, 2.76) == ("2.7 °C", "2.8 °C")
    assert apart(metric.difference, 2.76, 2.78) == ("2.76 °C", "2.78 °C")
    assert apart(us.speed, mph_to_ms(10.2), mph_to_ms(10.0)) == ("10.2 mph", "10.0 mph")
