"""A person's visits as a table that any program reads (RFC 4180)."""

import csv
import io
from dataclasses import replace

import pytest

from dispatch.hooks import registry, testing
from dispatch.hooks.manifest import InvalidOption
from dispatch.hooks.values import PublishAsk, Published
from tests.plugins.asks import PUBLISH_ASK, found

VISIT = PUBLISH_ASK.visits[0]


def published(ask: PublishAsk = PUBLISH_ASK, **options: str) -> Published:
    answer: Published = testing.answer(found("export_csv"), options, "publish", ask)
    return answer


def rows(answer: Published) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(answer.text, newline="")))


def test_a_visit_is_a_row_with_its_times_and_hours():
    answer = published(time_zone="America/New_York")
    assert (answer.media_type, answer.filename) == ("text/csv", "visits.csv")
    assert rows(answer) == [
        {
            "person": "Rook, the younger",
            "start": "2027-05-24T00:00-04:00",
            "end": "2027-05-24T01:00-04:00",
            "hours": "1.00",
            "what": "Second Wind; sand",
            "where": "Marrow Road",
            "note": "Van Knot",
            "sky": "allows",
            "id": "b7d1",
        }
    ]


def test_lines_end_and_texts_are_quoted_as_the_standard_says():
    """RFC 4180, 2: lines end in CRLF; a field with a comma, a quote or a break is quoted, a quote is doubled."""
    wicked = replace(VISIT, title='Mask "port", then\nstarboard')
    text = published(replace(PUBLISH_ASK, visits=(wicked,))).text
    assert text.endswith("\r\n")
    assert '"Mask ""port"", then\nstarboard"' in text
    assert '"Rook, the younger",2027-05-24T04:00+00:00,' in text


@pytest.mark.parametrize("begin", ["=", "+", "-", "@", "\t"])
def test_no_spreadsheet_runs_what_somebody_named_a_boat(begin):
    wicked = replace(VISIT, title=f"{begin}HYPERLINK(1)")
    (row,) = rows(published(replace(PUBLISH_ASK, visits=(wicked,))))
    assert row["what"] == f"'{begin}HYPERLINK(1)"


def test_what_the_sky_may_not_allow_is_not_sure():
    doubtful = replace(PUBLISH_ASK, visits=(replace(VISIT, sure=False),))
    assert rows(published(doubtful))[0]["sky"] == "not sure"


def test_nothing_posted_is_a_row_of_names():
    answer = published(replace(PUBLISH_ASK, visits=()))
    assert rows(answer) == []
    assert answer.text.startswith("person,start,end,hours,")


def test_a_zone_that_is_none_is_refused():
    with pytest.raises(InvalidOption, match="Pell, which is no time zone"):
        registry.validate(found("export_csv"), {"time_zone": "Pell"})
