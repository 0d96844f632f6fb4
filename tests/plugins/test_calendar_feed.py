"""A person's visits as RFC 5545 has them: right on both sides of a change of clocks, and never surer than they are."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from dispatch.hooks import registry, testing
from dispatch.hooks.manifest import InvalidOption
from dispatch.hooks.values import PostedVisit, PublishAsk
from dispatch.trade.spans import Span
from tests.plugins.asks import NY, PUBLISH_ASK, found

VISIT = PUBLISH_ASK.visits[0]


def written(ask: PublishAsk = PUBLISH_ASK, **options: object) -> str:
    answer = testing.answer(found("calendar_feed"), options, "publish", ask)
    assert (answer.media_type, answer.filename) == ("text/calendar", "visits.ics")
    text: str = answer.text
    return text


def events(text: str) -> list[dict[str, str]]:
    """The properties of each event, unfolded (RFC 5545, 3.1)."""
    whole = text.replace("\r\n ", "")
    return [
        dict(line.split(":", 1) for line in part.split("\r\n") if ":" in line)
        for part in whole.split("BEGIN:VEVENT\r\n")[1:]
    ]


def of(*visits: PostedVisit) -> PublishAsk:
    return replace(PUBLISH_ASK, visits=visits)


def nine(day: datetime) -> PostedVisit:
    """A visit of an hour at nine by Pell Harbor's clock."""
    start = day.replace(hour=9, tzinfo=NY)
    return replace(VISIT, span=Span(start, start + timedelta(hours=1)))


@pytest.mark.parametrize(
    ("day", "utc"),
    [
        # US rule since 2007: summer time from the second Sunday of March to the first of November.
        (datetime(2027, 3, 13), "20270313T140000Z"),  # noqa: DTZ001 - given its zone above
        (datetime(2027, 3, 14), "20270314T130000Z"),  # noqa: DTZ001
        (datetime(2027, 11, 6), "20271106T130000Z"),  # noqa: DTZ001
        (datetime(2027, 11, 7), "20271107T140000Z"),  # noqa: DTZ001
    ],
)
def test_nine_by_the_places_clock_is_nine_whatever_the_season(day, utc):
    (event,) = events(written(of(nine(day))))
    assert event["DTSTART"] == utc
    ends = datetime.strptime(event["DTEND"], "%Y%m%dT%H%M%SZ").replace(tzinfo=UTC)
    assert ends.astimezone(NY).hour == 10


def test_a_visit_over_the_hour_that_comes_twice_keeps_its_length():
    start = datetime(2027, 11, 7, 5, 30, tzinfo=UTC)
    visit = replace(VISIT, span=Span(start, start + timedelta(minutes=90)))
    (event,) = events(written(of(visit)))
    assert (event["DTSTART"], event["DTEND"]) == (
        "20271107T053000Z",
        "20271107T070000Z",
    )


def test_what_is_not_sure_does_not_look_sure():
    sure, doubt = events(written(of(VISIT, replace(VISIT, uid="2", sure=False))))
    assert (sure["STATUS"], sure["SUMMARY"]) == ("CONFIRMED", r"Second Wind\; sand")
    assert doubt["STATUS"] == "TENTATIVE"
    assert doubt["SUMMARY"] == r"Not sure: Second Wind\; sand"


def test_it_keeps_to_the_grammar():
    """RFC 5545: 3.1 lines of at most 75 octets and CRLF; 3.4 and 3.6 what must stand; 3.3.11 escapes."""
    text = written(of(replace(VISIT, note="über, \\ der\nPier; " + "ü東" * 60)))
    assert "\n" not in text.replace("\r\n", "")
    lines = text.encode().split(b"\r\n")
    assert max(map(len, lines)) <= 75
    assert lines[0:2] == [b"BEGIN:VCALENDAR", b"VERSION:2.0"]
    assert lines[-2:] == [b"END:VCALENDAR", b""]
    (event,) = events(text)
    assert {"UID", "DTSTAMP", "DTSTART"} <= set(event)
    assert event["DESCRIPTION"] == r"über\, \\ der\nPier\; " + "ü東" * 60
    assert event["UID"] == VISIT.uid


def test_the_calendar_has_a_name_and_says_when_to_look_again():
    """RFC 7986, 5.1 and 5.7."""
    text = written(title="Days of", refresh_minutes=30)
    assert "\r\nNAME:Days of Rook\\, the younger\r\n" in text
    assert "\r\nREFRESH-INTERVAL;VALUE=DURATION:PT30M\r\n" in text


def test_nobody_can_write_a_property_of_their_own():
    wicked = replace(VISIT, title="x\r\nATTACH:evil", where="y\nEND:VEVENT")
    (event,) = events(written(of(wicked)))
    assert "ATTACH" not in event
    assert event["LOCATION"] == r"y\nEND:VEVENT"


def test_with_nothing_posted_it_says_so():
    (event,) = events(written(of()))
    assert event["SUMMARY"] == "No visit is posted for you"


def test_a_refresh_that_cannot_be_meant_is_refused():
    with pytest.raises(InvalidOption, match="from 5 to 1440"):
        registry.validate(found("calendar_feed"), {"refresh_minutes": 0})
