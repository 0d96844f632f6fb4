"""Text messages through a message centre on this machine that speaks SMPP 3.4.

The bytes of a bind are the example of the standard's section 3.2.3 (from memory); numbers of commands and statuses
are those of its sections 5.1.2.1 and 5.1.3; joined messages begin as 3GPP TS 23.040, 9.2.3.24.1 says.
"""

from dataclasses import replace
from time import monotonic

import pytest

from dispatch.hooks import registry, testing
from dispatch.hooks.manifest import InvalidOption
from dispatch.hooks.values import Receipt
from dispatch.notices import segments
from plugins.notify_sms_smpp import coding, pdu
from tests.plugins import centre as smsc
from tests.plugins.asks import MESSAGE, found

PLAIN = replace(MESSAGE, body="Second Wind: we come Monday 08:10 to 09:10. [{~}] at €5")


@pytest.fixture
def centre():
    with smsc.serving() as one:
        yield one


def options(centre, **change: object) -> dict[str, object]:
    return {
        "host": "127.0.0.1",
        "port": centre.port,
        "security": "plain",
        "system_id": "lanternglass",
        "password": "cedar",
        "sender": "+12075550100",
        "wait_seconds": 2,
    } | change


def send(centre, message=PLAIN, **change: object) -> Receipt:
    given = options(centre, **change)
    receipt: Receipt = testing.answer(found("notify_sms_smpp"), given, "send", message)
    return receipt


def test_a_bind_is_the_bytes_of_the_standards_example():
    example = (
        "0000002F 00000002 00000000 00000001 534D50503354455354 00 7365637265743038 00 "
        "5355424D495431 00 00 01 01 00"
    )
    wanted = bytearray.fromhex(example)
    # The example names version 0 and a type and plan of the address; ours are 3.4 and none.
    body = pdu.bind("SMPP3TEST", "secret08", "SUBMIT1", version=0)
    ours = pdu.Unit(command=pdu.BIND_TRANSMITTER, sequence=1, body=body).packed()
    wanted[-3:-1] = b"\0\0"
    assert ours == bytes(wanted)


def test_a_message_is_taken_with_its_addresses_and_letters(centre):
    assert send(centre) == Receipt(status="accepted", said="number id-1")
    (taken,) = centre.taken
    assert taken["from"] == (1, 1, b"12075550100")
    assert taken["to"] == (1, 1, b"12075550131")
    assert (taken["coding"], taken["esm_class"], taken["registered"]) == (0, 0, 0)
    assert taken["message"].endswith(b"\x1b<\x1b(\x1b=\x1b)\x1b> at \x1be5")
    assert centre.commands == [0x02, 0x04, 0x06]


@pytest.mark.parametrize(
    ("sender", "told"),
    [
        ("+1 207 555 0100", (1, 1, b"12075550100")),
        ("20755", (0, 0, b"20755")),
        ("Lanternglas", (5, 0, b"Lanternglas")),
        ("", (0, 0, b"")),
    ],
)
def test_a_sender_is_a_number_a_short_number_or_a_name(centre, sender, told):
    send(centre, sender=sender)
    assert centre.taken[0]["from"] == told


def test_letters_the_telephones_alphabet_has_not_go_in_sixteen_bits(centre):
    send(centre, replace(PLAIN, body="Grüße, 東"))
    (taken,) = centre.taken
    assert taken["coding"] == 8
    assert taken["message"].decode("utf-16-be") == "Grüße, 東"


def test_a_centre_that_takes_latin_1_is_sent_it(centre):
    send(centre, replace(PLAIN, body="Grüße"), alphabet="latin-1")
    assert (centre.taken[0]["coding"], centre.taken[0]["message"]) == (
        3,
        b"Gr\xfc\xdfe",
    )


@pytest.mark.parametrize("letter", ["a", "[", "東", "🛥"])
@pytest.mark.parametrize("length", [60, 161, 320])
def test_a_long_text_goes_in_as_many_parts_as_the_house_counted(centre, letter, length):
    body = letter * length
    send(centre, replace(PLAIN, body=body), most_segments=20)
    assert len(centre.taken) == segments.measure(body).count
    if len(centre.taken) > 1:
        heads = [taken["message"][:6] for taken in centre.taken]
        assert {(*head[:3], head[4]) for head in heads} == {(5, 0, 3, len(heads))}
        assert [head[5] for head in heads] == list(range(1, len(heads) + 1))
        assert len({head[3] for head in heads}) == 1
        assert {taken["esm_class"] for taken in centre.taken} == {0x40}
    assert all(len(taken["message"]) <= 160 for taken in centre.taken)


def test_both_know_the_same_alphabet():
    known = coding._OCTETS[coding.GSM]
    assert set(known) == segments._BASIC | segments._EXTENSION
    assert len(coding._ALPHABET) == 128


def test_the_same_message_has_the_same_reference_however_often_it_is_tried(centre):
    long = replace(PLAIN, body="a" * 200)
    send(centre, long)
    send(centre, long)
    first, _, again, _ = (taken["message"][3] for taken in centre.taken)
    assert first == again


def test_a_centre_that_asks_whether_we_are_there_is_answered(centre):
    centre.asks_first = True
    assert send(centre).status == "accepted"
    assert 0x80000015 in centre.commands


@pytest.mark.parametrize(
    ("status", "told"),
    [
        (0x0B, "the receiver's number is wrong"),
        (0x0A, "the sender's address is wrong"),
        (0x45, "0x00000045: it does not say why"),
    ],
)
def test_what_a_centre_will_never_take_is_refused(centre, status, told):
    centre.statuses = [status]
    receipt = send(centre)
    assert receipt.status == "refused"
    assert told in receipt.said


@pytest.mark.parametrize("status", [0x14, 0x58, 0x08])
def test_a_busy_centre_is_tried_again(centre, status):
    centre.statuses = [status]
    with pytest.raises(testing.Broken, match="It is tried again"):
        send(centre)


def test_a_part_that_is_not_taken_after_another_leaves_it_unknown(centre):
    centre.statuses = [0, 0x58]
    receipt = send(centre, replace(PLAIN, body="a" * 200))
    assert receipt.status == "unknown"
    assert "1 of 2 parts were taken" in receipt.said


@pytest.mark.parametrize("how", ["silent_at", "hangs_up_at"])
def test_a_line_that_breaks_after_it_was_submitted_leaves_it_unknown(centre, how):
    setattr(centre, how, 2)
    receipt = send(centre, wait_seconds=0.5)
    assert receipt.status == "unknown"
    assert "the line broke" in receipt.said


@pytest.mark.parametrize("how", ["silent_at", "hangs_up_at"])
def test_a_centre_that_does_not_answer_a_bind_was_sent_nothing(centre, how):
    setattr(centre, how, 1)
    begun = monotonic()
    with pytest.raises(testing.Broken, match="does not answer"):
        send(centre, wait_seconds=0.5)
    assert monotonic() - begun < 3


def test_what_is_no_unit_of_the_protocol_is_told(centre):
    centre.says = b"HTTP/1.1 400 Bad Request\r\n\r\n"
    with pytest.raises(testing.Broken, match="does not answer"):
        send(centre)


def test_a_wrong_password_is_told_and_not_shown(centre):
    with pytest.raises(testing.Broken, match="does not let us in") as told:
        send(centre, password="oak")  # noqa: S106 - made up for this test
    assert "oak" not in str(told.value)
    assert centre.taken == []


def test_a_centre_that_is_away_is_told():
    away = smsc.Centre(port=1)
    with pytest.raises(testing.Broken, match=r"127\.0\.0\.1:1 cannot be reached"):
        send(away)


def test_a_text_that_takes_too_many_segments_is_refused(centre):
    receipt = send(centre, replace(PLAIN, body="a" * 500), most_segments=3)
    assert receipt == Receipt(
        status="refused", said="the text takes 4 segments, at most 3 are sent"
    )
    assert centre.commands == []


def test_a_number_of_odd_letters_is_refused(centre):
    assert send(centre, replace(PLAIN, to="+1207555ä")).status == "refused"


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"host": "sms.pell.test"}, "plain is for this machine"),
        ({"password": "far too long"}, "password may have at most 8"),
        ({"system_id": "ä"}, "system_id may have at most 15 plain"),
        ({"wait_seconds": 90}, "from 0.1 to 40"),
        ({"port": 0}, "port must be from 1"),
    ],
)
def test_options_that_cannot_be_are_refused(centre, change, why):
    with pytest.raises(InvalidOption, match=why):
        registry.validate(found("notify_sms_smpp"), options(centre, **change))
