"""No line breaks between a number and its unit; words that only look like units are left alone."""

import pytest

from dispatch.web.templatetags.leeboard import phone, unbroken


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


@pytest.mark.parametrize(
    ("kept", "shown"),
    [
        ("+12075550131", "+1 207 555 0131"),
        ("+4922155501312", "+4922155501312"),
        ("+1207555013", "+1207555013"),
        ("", ""),
    ],
)
def test_a_phone_number_is_shown_in_the_groups_it_is_read_in(kept, shown):
    assert phone(kept) == shown
