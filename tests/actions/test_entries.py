"""How what people write is read."""

import pytest

from dispatch.actions.entries import DOLLARS, Entry

FEET = Entry(name="length", label="Length", kind="number")


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("20.5", 20.5),
        ("20,5", 20.5),
        ("6,15", 6.15),
        ("1,360", 1360),
        ("1,360.50", 1360.5),
        ("1,234,567", 1_234_567),
        ("-15,5", -15.5),
    ],
)
def test_a_comma_parts_thousands_or_stands_for_the_point(written, meant):
    entry = Entry(name="n", label="N", kind="number", least=-100, most=1e7)
    assert entry.read(written) == pytest.approx(meant)


def test_half_a_dollar_with_a_comma_is_no_fifty_dollars():
    price = Entry(name="price", label="Price", kind="whole", unit=DOLLARS, most=1e6)
    assert price.read("4,60") == 460


@pytest.mark.parametrize("written", ["1,2,3", ",5", "5,", "1,36,0", "20.5,5"])
def test_a_comma_that_means_nothing_is_refused(written):
    with pytest.raises(ValueError, match="Give a number"):
        FEET.read(written)
