"""A text goes to a gateway once, every field escaped for where it stands; what is not known is not called sent."""

import base64
import json
from collections.abc import Iterator
from dataclasses import replace
from urllib.parse import parse_qs, urlsplit
from xml.etree import ElementTree

import pytest

from dispatch.hooks import guard, registry, testing
from dispatch.hooks.manifest import InvalidOption
from dispatch.hooks.values import Message, Receipt
from tests.hooks.strangers import MORNING
from tests.plugins import gateway
from tests.plugins.asks import MESSAGE, found
from tests.plugins.gateway import Gateway

WICKED = replace(
    MESSAGE, body='He said "5 < 6 & 7 > 2";\n\\o/ $to ${x} {y} Grüße 東 😀'
)
FORM = "Content-Type: application/x-www-form-urlencoded"
KEY = "cedar-and-copper"


@pytest.fixture
def server() -> Iterator[Gateway]:
    with gateway.serving() as one:
        yield one


def options(server: Gateway, **changes: object) -> dict[str, object]:
    given = {"url": server.url, "sender": "PELL", "secret": KEY, "wait_seconds": 5}
    return given | changes


def outcome(given: dict[str, object], message: Message = MESSAGE) -> guard.Outcome:
    one = found("notify_sms_http")
    return guard.call(one, given, "send", message, now=MORNING, conduct=guard.Conduct())


def send(given: dict[str, object], message: Message = MESSAGE) -> Receipt:
    receipt: Receipt = testing.answer(found("notify_sms_http"), given, "send", message)
    return receipt


def test_json_carries_every_letter_of_the_text(server):
    assert send(options(server), WICKED).status == "accepted"
    (asked,) = server.asked
    assert (asked.method, asked.path) == ("POST", "/v1/messages")
    assert asked.headers["Authorization"] == f"Bearer {KEY}"
    assert asked.headers["Content-Type"] == "application/json"
    assert json.loads(asked.body) == {
        "to": "+12075550131",
        "from": "PELL",
        "text": WICKED.body,
    }


def test_a_form_carries_every_letter_and_the_plus_of_the_number(server):
    body = "To=$to&From=$sender&Body=${text}&Ref=$key&Parts=$segments"
    send(options(server, headers=FORM, body=body), replace(WICKED, segments=2))
    fields = parse_qs(server.asked[0].body.decode(), strict_parsing=True)
    assert fields == {
        "To": ["+12075550131"],
        "From": ["PELL"],
        "Body": [WICKED.body],
        "Ref": [MESSAGE.key],
        "Parts": ["2"],
    }


def test_xml_carries_every_letter(server):
    body = '<sms to="$to">$text</sms>'
    send(options(server, headers="Content-Type: text/xml", body=body), WICKED)
    sms = ElementTree.fromstring(server.asked[0].body)  # noqa: S314 - our own, in a test
    assert (sms.get("to"), sms.text) == ("+12075550131", WICKED.body)


def test_a_get_carries_them_in_the_address_and_sends_no_body(server):
    url = f"{server.url}?to=$to&text=$text"
    send(options(server, url=url, method="GET"), WICKED)
    (asked,) = server.asked
    assert parse_qs(urlsplit(asked.path).query) == {
        "to": ["+12075550131"],
        "text": [WICKED.body],
    }
    assert (asked.method, asked.body) == ("GET", b"")


def test_user_and_secret_are_joined_as_rfc_7617_joins_them(server):
    """RFC 7617, section 2: Aladdin and open sesame become QWxhZGRpbjpvcGVuIHNlc2FtZQ==."""
    given = options(server, user="Aladdin", headers="Authorization: Basic $basic")
    send(given | {"secret": "open sesame"})
    told = server.asked[0].headers["Authorization"]
    assert told == "Basic QWxhZGRpbjpvcGVuIHNlc2FtZQ=="
    assert base64.b64decode(told.split()[1]) == b"Aladdin:open sesame"


def test_no_field_begins_another_header(server):
    given = options(server, headers="X-To: $to\nX-Key: $key\n" + FORM)
    wicked = replace(MESSAGE, to="1\r\nX-Evil: yes", key="k\nX-Evil: yes")
    send(given | {"body": "$to $text"}, wicked)
    headers = server.asked[0].headers
    assert "X-Evil" not in headers
    assert headers["X-To"] == "1??X-Evil: yes"


def test_the_number_of_the_message_is_kept(server):
    receipt = send(options(server, id_at="/messages/0/id"))
    assert receipt == Receipt(status="accepted", said="202 number m-7", number="m-7")


@pytest.mark.parametrize(
    ("pointer", "number"),
    [("/a~1b", "1"), ("/m~0n", "8"), ("/foo/0", "bar"), ("/ ", "7"), ('/k"l', "6")],
)
def test_a_pointer_finds_what_rfc_6901_says(server, pointer, number):
    """The document and the answers of RFC 6901, section 5."""
    document = {"foo": ["bar", "baz"], "": 0, "a/b": 1, 'k"l': 6, " ": 7, "m~n": 8}
    server.answer = json.dumps(document).encode()
    assert send(options(server, id_at=pointer)).said == f"202 number {number}"


@pytest.mark.parametrize(
    "answer", [b"", b"ok", b"[]", b'{"messages": []}', b'{"messages": [{"id": null}]}']
)
def test_taken_without_the_number_it_should_tell_is_not_known(server, answer):
    server.answer = answer
    receipt = send(options(server, id_at="/messages/0/id"))
    assert receipt.status == "unknown"
    assert "202 without a number at /messages/0/id" in receipt.said


@pytest.mark.parametrize(
    ("status", "became"),
    [
        (200, "accepted"),
        (400, "refused"),
        (422, "refused"),
        (500, "unknown"),
        (502, "unknown"),
        (504, "unknown"),
    ],
)
def test_a_status_settles_the_message(server, status, became):
    server.status = status
    told = outcome(options(server))
    assert not told.untouched
    assert told.answer.status == became
    assert len(server.asked) == 1


@pytest.mark.parametrize(
    ("status", "told"),
    [
        (401, "Check user and secret."),
        (402, "balance"),
        (403, "Check user and secret."),
        (404, "Check url and method."),
        (429, "It is tried again."),
        (503, "It is tried again."),
    ],
)
def test_what_can_be_put_right_or_waited_for_is_tried_again(server, status, told):
    server.status = status
    failed = outcome(options(server))
    assert failed.untouched
    assert told in failed.fault
    assert failed.fault.startswith(
        f"Plugin notify_sms_http cannot answer: 127.0.0.1 did not take it: {status}"
    )


def test_taken_may_be_fewer_statuses(server):
    assert send(options(server, taken="200, 201")).status == "unknown"
    server.status = 201
    assert send(options(server, taken="200, 201")).status == "accepted"


def test_a_redirect_is_not_followed_with_the_secret(server):
    with gateway.serving() as elsewhere:
        server.status, server.location = 307, elsewhere.url
        assert "Put the address it moved to" in outcome(options(server)).fault
        assert elsewhere.asked == []


def test_a_line_that_breaks_or_says_nothing_leaves_it_unknown(server):
    server.status = 0
    assert send(options(server)).status == "unknown"
    server.hangs = True
    receipt = send(options(server, wait_seconds=0.3))
    assert receipt == Receipt(status="unknown", said="the line broke (ReadTimeout)")


def test_a_gateway_that_is_away_is_tried_again():
    with gateway.serving() as gone:
        pass
    told = outcome(options(gone))
    assert told.untouched
    assert "127.0.0.1 cannot be reached" in told.fault


def test_a_secret_that_the_gateway_repeats_is_not_kept(server):
    server.answer, server.status = f"no such key {KEY}".encode(), 401
    assert KEY not in outcome(options(server)).fault
    server.status = 422
    assert send(options(server)).said == "422 no such key [secret]"


def test_a_text_of_more_segments_than_one_pays_for_is_not_sent(server):
    receipt = send(options(server, most_segments=2), replace(MESSAGE, segments=3))
    assert receipt.status == "refused"
    assert receipt.said == "the text takes 3 segments, at most 2 are sent"
    assert server.asked == []


def test_a_long_answer_is_not_read_to_its_end(server):
    server.answer = b"x" * 5_000_000
    assert send(options(server)).status == "accepted"


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"url": "http://gateway.test/sms"}, "begin the url with https"),
        ({"url": "gateway.test"}, "option url is no address"),
        ({"url": "https://[::1/sms"}, "option url is no address"),
        ({"url": "https://$to.test/"}, "option url is no address"),
        ({"method": "PATCH"}, "choose POST or PUT or GET"),
        ({"headers": "Authorization"}, "'Authorization' is not as Name: value"),
        ({"headers": "X Y: z"}, "'X Y: z' is not as Name: value"),
        ({"headers": "X: ü"}, "plain letters alone"),
        ({"body": "$to $txt"}, "option body has a field nobody fills in"),
        ({"body": "costs $ 5 $to $text"}, "and $$ for a dollar"),
        ({"body": '{"to": "$to"}'}, "fields $to and $text are nowhere sent"),
        ({"method": "GET"}, "fields $to and $text are nowhere sent"),
        ({"body": '{"to": $to, "text": "$text"}'}, "is no JSON once it is filled in"),
        ({"taken": "all"}, "option taken names no statuses"),
        ({"taken": "20-30"}, "option taken names no statuses"),
        ({"id_at": "messages"}, "option id_at must begin with a slash"),
        ({"wait_seconds": 0}, "wait_seconds must be more than 0 and at most 30"),
        ({"most_segments": 0}, "option most_segments must be 1 or more"),
        ({"sender": "A\nB"}, "one line each"),
    ],
)
def test_options_that_cannot_work_are_told_before_they_are_kept(server, change, told):
    with pytest.raises(InvalidOption) as refusal:
        registry.validate(found("notify_sms_http"), options(server, **change))
    assert told in str(refusal.value)
    assert KEY not in str(refusal.value)


def test_an_empty_secret_leaves_no_header_that_cannot_be_sent(server):
    """The usual header is Authorization: Bearer $secret, of which a space would be left."""
    assert send({"url": server.url}).status == "accepted"
    assert server.asked[0].headers["Authorization"] == "Bearer"


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"hear_at": "id"}, "option hear_at: 'id' is not as id /messages"),
        ({"hear_at": "colour /c"}, "there is id, state, from, text, each"),
        ({"hear_words": "delivered delivered"}, "option hear_words: 'delivered del"),
    ],
)
def test_places_in_a_post_that_cannot_be_read_are_refused(server, change, why):
    with pytest.raises(InvalidOption, match=why):
        registry.validate(found("notify_sms_http"), {"url": server.url} | change)
