"""No line breaks between a number and its unit; words that only look like units are left alone."""

import pytest

from dispatch.web.templatetags.leeboard import unbroken


@pytest.mark.parametrize(
    ("said", "shown"),
    [
        (
            "air 60 °F, gusts 11 mph",
            "air 60\N{NO-BREAK SPACE}°F, gusts 11\N{NO-BREAK SPACE}mph",
        ),
        (
            "rain 0.30 in, chance 90 %",
            "rain 0.30\N{NO-BREAK SPACE}in, chance 90\N{NO-BREAK SPACE}%",
        ),
        ("only 1 h 55 to spare", "only 1\N{NO-BREAK SPACE}h 55 to spare"),
        ("2 hoods, 3 in the van, 4 minutes", "2 hoods, 3 in the van, 4 minutes"),
    ],
)
def test_a_number_stays_with_its_unit(said, shown):
    assert unbroken(said) == shown
