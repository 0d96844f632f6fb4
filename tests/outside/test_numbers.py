"""Vessel numbers and hull identification numbers, against the forms that US rules give them (warnings only)."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dispatch.trade import numbers


# 33 CFR 173.27(a)(4), examples of display with spaces and hyphens; 33 CFR 174.23(a), examples of the format;
# 173.27, a tender's suffix. Read on the page.
@pytest.mark.parametrize(
    ("text", "groups"),
    [
        ("DC 5678 EF", ("DC", "5678", "EF")),
        ("DC-5678-EF", ("DC", "5678", "EF")),
        ("NH 1234 BD", ("NH", "1234", "BD")),
        ("WN 567 EFG", ("WN", "567", "EFG")),
        ("DC 5678 EF 1", ("DC", "5678", "EF", "1")),
        ("me1234ab", ("ME", "1234", "AB")),
    ],
)
def test_vessel_numbers_of_the_rules(text: str, groups: tuple[str, ...]) -> None:
    assert numbers.vessel_groups(text) == groups
    assert numbers.vessel_shown(text) == " ".join(groups)
    assert numbers.doubt(text) == ""


# The same rule: at most four numerals with two letters, or three with three; two letters in front. The prefix by
# Appendix A to part 173, read on the page: California is CF, Michigan MC, Guam GU. I, O and Q: from memory.
@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("NH 12345 BD", "has not the form"),
        ("NH 1234 BDE", "has not the form"),
        ("N 123 AB", "has not the form"),
        ("NH 1234", "has not the form"),
        ("", "has not the form"),
        ("CA 1234 AB", "no US state uses"),
        ("MC 1234 QA", "I, O or Q"),
        ("ABC12345A787", "looks like a hull identification number"),
    ],
)
def test_a_number_of_another_form_is_doubted_and_not_refused(
    text: str, says: str
) -> None:
    assert says in numbers.doubt(text)


# 33 CFR 181.25, read on the page: maker 3, serial 5 without I, O and Q, month A to L, digit of the year, model
# year. ABC12345A787 is certified in January of a year that ends in 7, model year 1987.
def test_a_hull_identification_number_in_its_parts() -> None:
    assert numbers.hull_number("abc12345a787") == numbers.HullNumber(
        maker="ABC", serial="12345", month="January", year_digit=7, model_year=87
    )


# The same rule's bounds. Fourteen characters with a land in front, and layouts from before August 1984, are
# lawful too (from memory), so nothing is refused for its form.
@pytest.mark.parametrize(
    "text",
    [
        "ABC12345M787",
        "ABCI2345A787",
        "ABC1234OA787",
        "ABC12345A78",
        "ABC-12345-A787",
        "US-ABC12345A787",
        "ABC12345AB87",
    ],
)
def test_a_hull_identification_number_of_another_form(text: str) -> None:
    assert numbers.hull_number(text) is None


@settings(deadline=None)
@given(st.text(max_size=20))
def test_any_text_is_either_of_the_form_or_doubted(text: str) -> None:
    assert bool(numbers.vessel_groups(text)) or bool(numbers.doubt(text))


# 33 CFR 181.25, read on the page. Older layouts (before August 1984) and those with a land in front: from memory;
# they are lawful, so what is said of them only asks to look.
@pytest.mark.parametrize("text", ["ABC12345A787", "tdp00417c212 "])
def test_a_hull_number_of_the_rules_form_is_not_doubted(text: str) -> None:
    assert numbers.hull_doubt(text) == ""


@pytest.mark.parametrize(
    "text", ["ABC12345M787", "ABC1O345A787", "US-ABC12345A787", "ABC123450482", "x"]
)
def test_another_form_is_doubted_and_sends_to_the_transom(text: str) -> None:
    said = numbers.hull_doubt(text)
    assert said.startswith(text.strip())
    assert "Check it at the transom" in said
