"""How what people write is read."""

from datetime import UTC, date, datetime

import pytest

from dispatch.actions import keeping
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


@pytest.mark.parametrize(
    ("cents", "said"),
    [
        (136_000, "$1,360"),
        (151_250, "$1,512.50"),
        (455, "$4.55"),
        (-500, "-$5"),
        (0, "$0"),
    ],
)
def test_dollars_are_told_as_people_read_them(cents, said):
    assert Entry(name="n", label="N", kind="whole", unit=DOLLARS).said(cents) == said


def test_a_day_is_told_as_people_read_it():
    by = Entry(name="n", label="N", kind="moment", clock_zone="America/New_York")
    due = datetime(2027, 6, 1, 21, tzinfo=UTC)
    assert by.said(due) == "Tue 1 Jun 2027 17:00"
    assert by.shown(due) == "2027-06-01 17:00"
    on = Entry(name="n", label="N", kind="date")
    assert on.said(date(2027, 5, 24)) == "Mon 24 May 2027"


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ("", "Ring twice", "“Note” now Ring twice (was not set)"),
        ("Ring twice", None, "“Note” now not set (was Ring twice)"),
        ("9 to 5", "8 to 4", "“Note” now 8 to 4 (was 9 to 5)"),
    ],
)
def test_a_change_says_what_is_now_and_what_was(before, after, said):
    note = Entry(name="note", label="Note", may_lack=True)
    assert keeping.told((note,), {"note": before}, {"note": after}) == (said,)
