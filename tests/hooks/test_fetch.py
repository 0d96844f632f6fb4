"""JSON comes from where it may, in bounded time, once; what came wrong is told in a sentence."""

from collections.abc import Iterator
from datetime import UTC, datetime
from time import monotonic

import pytest

from dispatch.hooks import fetch
from dispatch.hooks.fetch import Page, Service, Stamp
from dispatch.hooks.values import Complaint
from tests.hooks import loopback
from tests.hooks.loopback import Loopback, Reply, told

DEFAULTS = {option.name: option.default for option in fetch.OPTIONS}


@pytest.fixture
def server(monkeypatch: pytest.MonkeyPatch) -> Iterator[Loopback]:
    monkeypatch.setattr(fetch, "_FIRST_PAUSE_S", 0.01)
    with loopback.running() as running:
        yield running


def get(server: Loopback, stamp: Stamp | None = None, **options: object) -> Page:
    return Service(DEFAULTS | options).get(f"{server.address}/sky?x=1", stamp)


def refusal(server: Loopback, **options: object) -> str:
    with pytest.raises(Complaint) as complaint:
        get(server, **options)
    return str(complaint.value)


def test_an_answer_comes_with_its_stamp_and_its_date(server: Loopback) -> None:
    modified = "Sun, 23 May 2027 22:00:00 GMT"
    server.answers("/sky", told({"a": [1, None]}, ETag='"7"', Last_Modified=modified))
    page = get(server)
    assert page.data == {"a": [1, None]}
    assert page.stamp == Stamp(etag='"7"', modified=modified)
    assert fetch.moment(page.date) is not None
    assert fetch.moment(modified) == datetime(2027, 5, 23, 22, tzinfo=UTC)
    assert fetch.moment("yesterday") is None


def test_it_says_who_asks(server: Loopback) -> None:
    server.answers("/sky", told({}))
    get(server, user_agent="Pell Harbor, office@example.test")
    assert server.asked[0][1]["User-Agent"] == "Pell Harbor, office@example.test"


def test_what_is_known_is_not_read_again(server: Loopback) -> None:
    server.answers("/sky", told({"a": 1}, ETag='"7"'))
    page = get(server, Stamp(etag='"7"', modified="Sun, 23 May 2027 22:00:00 GMT"))
    assert (page.changed, page.data) == (False, None)
    assert server.asked[0][1]["If-Modified-Since"] == "Sun, 23 May 2027 22:00:00 GMT"
    assert get(server, Stamp(etag='"6"')).data == {"a": 1}


@pytest.mark.parametrize("etag", ['"' + "7" * 400 + '"', '"é"'])
def test_a_stamp_that_cannot_be_sent_back_is_not_kept(
    server: Loopback, etag: str
) -> None:
    server.answers("/sky", told({}, ETag=etag))
    assert get(server).stamp == Stamp()


def test_nothing_new_without_having_asked_for_it_is_no_answer(server: Loopback) -> None:
    server.answers("/sky", Reply(status=304))
    assert "/sky answered 304 Not Modified." in refusal(server)


@pytest.mark.parametrize("status", [429, 500, 503])
def test_one_that_stumbles_is_asked_again(server: Loopback, status: int) -> None:
    server.answers("/sky", Reply(status=status), told({"a": 1}))
    assert get(server).data == {"a": 1}
    assert len(server.asked) == 2


def test_one_that_goes_on_stumbling_is_given_up(server: Loopback) -> None:
    server.answers("/sky", Reply(status=500))
    said = refusal(server, tries=3.0)
    assert said == f"{server.address}/sky answered 500 Internal Server Error."
    assert len(server.asked) == 3


def test_one_that_wants_a_longer_pause_than_there_is_time_is_left(
    server: Loopback,
) -> None:
    server.answers("/sky", Reply(status=503, headers={"Retry-After": "3600"}))
    began = monotonic()
    assert "answered 503" in refusal(server)
    assert len(server.asked) == 1
    # An hour was wanted.
    assert monotonic() - began < 20


@pytest.mark.parametrize("status", [400, 401, 403])
def test_a_refusal_is_not_asked_again(server: Loopback, status: int) -> None:
    server.answers("/sky", Reply(status=status))
    assert f"answered {status}" in refusal(server)
    assert len(server.asked) == 1


def test_nothing_there_is_told_as_that(server: Loopback) -> None:
    with pytest.raises(fetch.NotThere, match="/sky answered 404 Not Found"):
        get(server)


def test_a_pointer_elsewhere_is_not_followed(server: Loopback) -> None:
    server.answers("/sky", Reply(status=302, headers={"Location": "/secret"}))
    server.answers("/secret", told({}))
    assert "points elsewhere and is not followed" in refusal(server)
    assert server.paths() == ["/sky?x=1"]


def test_one_that_dribbles_is_cut_off(server: Loopback) -> None:
    server.answers("/sky", Reply(body=b"[" + b"1," * 99 + b"1]", slow_s=0.2))
    began = monotonic()
    said = refusal(server, timeout_s=0.6, tries=1.0)
    assert "answered too slowly" in said
    # Whole it would take 40 s.
    assert monotonic() - began < 20


def test_one_that_says_nothing_is_left(server: Loopback) -> None:
    server.answers("/sky", Reply(body=b"{}", slow_s=30.0))
    assert "did not answer within 0.2 s" in refusal(server, timeout_s=0.2, tries=1.0)


def test_all_tries_together_end_in_time(
    server: Loopback, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(fetch, "WHOLE_S", 0.5)
    server.answers("/sky", Reply(body=b"{}", slow_s=30.0))
    began = monotonic()
    refusal(server, timeout_s=25, tries=4.0)
    # Each try alone might take 25 s.
    assert monotonic() - began < 20
    assert len(server.asked) < 4


def test_one_that_is_away_is_told() -> None:
    with loopback.running() as gone:
        pass
    assert "cannot be reached" in refusal(gone, tries=1.0)


@pytest.mark.parametrize(
    "body", [b"", b"<html>", b'{"a":', b'{"a": NaN}', b"\xff\xfe", b"[" * 100_000]
)
def test_what_is_not_json_is_told(server: Loopback, body: bytes) -> None:
    server.answers("/sky", Reply(body=body))
    assert "/sky answered what is not JSON" in refusal(server)


def test_a_body_without_end_is_cut_off(
    server: Loopback, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(fetch, "MOST_BYTES", 2_000_000)
    server.answers("/sky", Reply(body=b" " * 2_500_000 + b"{}"))
    assert "answered more than 2 MB" in refusal(server)


@pytest.mark.parametrize(
    ("url", "why"),
    [
        ("http://weather.example.test/x", "may not be asked: https is wanted"),
        ("http://127.0.0.1.example.test/", "may not be asked"),
        ("http://10.0.0.1/", "may not be asked"),
        ("file:///etc/passwd", "may not be asked"),
        ("weather", "may not be asked"),
        ("https:///x", "may not be asked"),
        ("https://a:b@example.test/", "carries a name or password"),
        ("http://[::1/", "is no address"),
    ],
)
def test_only_https_and_this_machine_may_be_asked(url: str, why: str) -> None:
    with pytest.raises(Complaint, match=why):
        fetch.checked(url)


@pytest.mark.parametrize(
    "url",
    ["https://example.test/a", "http://localhost:80/a", "http://[::1]/a"],
)
def test_those_may_be(url: str) -> None:
    assert fetch.checked(url).endswith("/a")


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("timeout_s", 0.0),
        ("timeout_s", 60.0),
        ("tries", 0.0),
        ("tries", 9.0),
        ("tries", 1.5),
        ("address", "http://example.test/"),
        ("user_agent", "Boote\nX"),
        ("user_agent", "Grüße"),
    ],
)
def test_options_have_bounds(name: str, value: object) -> None:
    given = DEFAULTS | {"address": "https://example.test/"}
    assert fetch.wrong(given) == ""
    assert fetch.wrong(given | {name: value}).startswith(f"option {name}")
