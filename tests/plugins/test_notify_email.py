"""Mail goes out encrypted and once; what is refused for good is told apart from what may be tried again."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from email import message_from_bytes, policy
from pathlib import Path

import pytest

from dispatch.hooks import guard, registry, testing
from dispatch.hooks.manifest import InvalidOption
from dispatch.hooks.values import Appointment, Message, Receipt
from dispatch.trade.spans import Span
from tests.plugins import mail_server
from tests.plugins.asks import MESSAGE, NY, found
from tests.plugins.mail_server import Kept

MAIL = replace(
    MESSAGE, channel="email", to="ames@pell.test", subject="Second Wind: we come"
)
NINE = datetime(2027, 5, 24, 8, 10, tzinfo=NY)
VISIT = Appointment(
    uid="arrival:J1 visit 2027-05-24:7",
    sequence=1,
    told_at=NINE - timedelta(days=1),
    span=Span(NINE, NINE + timedelta(hours=1)),
    where="Marrow Road; shed 2",
)
WORD = "cedar and copper"


@pytest.fixture(scope="session")
def pem(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return mail_server.certificate(tmp_path_factory.mktemp("certificate"))


@pytest.fixture
def server(pem: Path) -> Iterator[Kept]:
    with mail_server.serving(pem) as kept:
        yield kept


def options(server: Kept, pem: Path, **changes: object) -> dict[str, object]:
    return {
        "host": "localhost",
        "port": server.port,
        "user": "leeboard",
        "password": WORD,
        "sender": "crew@pell.test",
        "sender_name": "Pell Harbor Hull Works",
        "trust_file": str(pem),
        "wait_seconds": 5,
    } | changes


def outcome(given: dict[str, object], message: Message = MAIL) -> guard.Outcome:
    return guard.call(
        found("notify_email"),
        given,
        "send",
        message,
        now=NINE,
        conduct=guard.Conduct(),
    )


def send(given: dict[str, object], message: Message = MAIL) -> Receipt:
    receipt: Receipt = testing.answer(found("notify_email"), given, "send", message)
    return receipt


def letters(server: Kept):
    """The letters that came in, in order."""
    return [message_from_bytes(raw, policy=policy.default) for raw in server.letters]


def only(server: Kept):
    (letter,) = letters(server)
    return letter


def test_a_letter_goes_out_over_starttls_and_arrives_whole(server, pem):
    receipt = send(options(server, pem), replace(MAIL, body="Grüße.\n.\n.dot\n東"))
    assert receipt == Receipt(status="accepted", said="250 2.0.0 queued as 7")
    assert server.said.index("STARTTLS") < server.said.index("AUTH")
    letter = only(server)
    assert letter["From"] == "Pell Harbor Hull Works <crew@pell.test>"
    assert (letter["To"], letter["Subject"]) == (MAIL.to, MAIL.subject)
    assert letter["Auto-Submitted"] == "auto-generated"
    assert letter.get_content().splitlines() == ["Grüße.", ".", ".dot", "東"]
    assert server.recipients == ["TO:<ames@pell.test>"]


def test_a_letter_goes_out_over_tls_from_the_first_byte(pem):
    with mail_server.serving(pem, implicit=True) as server:
        assert send(options(server, pem, security="implicit")).status == "accepted"
        assert "STARTTLS" not in server.said
        assert len(server.letters) == 1


def test_a_certificate_nobody_vouches_for_is_not_trusted(server, pem):
    told = outcome(options(server, pem, trust_file=""))
    assert told.untouched
    assert "the certificate of localhost:" in told.fault
    assert (server.signed_in, server.letters) == ([], [])


def test_a_certificate_of_another_host_is_not_trusted(tmp_path):
    other = mail_server.certificate(tmp_path, "mail.elsewhere.test")
    with mail_server.serving(other) as server:
        told = outcome(options(server, other))
    assert "is not trusted" in told.fault
    assert server.signed_in == []


def test_a_server_that_takes_back_its_starttls_is_told_no_password(pem):
    with mail_server.serving() as server:
        told = outcome(options(server, pem))
    assert told.untouched
    assert "cannot do what security asks" in told.fault
    assert server.said == ["EHLO", *server.said[1:]]
    assert "AUTH" not in server.said


def test_plain_is_for_this_machine_alone(pem):
    with mail_server.serving() as server:
        assert send(options(server, pem, security="plain")).status == "accepted"
    away = options(server, pem, security="plain", host="mail.pell.test")
    with pytest.raises(InvalidOption, match="Plain is for this machine alone"):
        registry.validate(found("notify_email"), away)


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"port": 0}, "port is 0; a whole number from 1"),
        ({"wait_seconds": 0}, "wait_seconds must be more than 0 and at most 15"),
        ({"wait_seconds": 16}, "wait_seconds must be more than 0 and at most 15"),
        ({"port": 25.5}, "port is 25.5; a whole number"),
        ({"security": "none"}, "choose starttls or implicit or plain"),
        ({"password": ""}, "give both user and password"),
        ({"sender": "crew"}, "option sender is no e-mail address"),
        ({"sender": "crew@pell.test\nBcc: x@y.test"}, "sender is no e-mail address"),
    ],
)
def test_options_that_cannot_work_are_told_before_they_are_kept(
    server, pem, change, told
):
    with pytest.raises(InvalidOption) as refusal:
        registry.validate(found("notify_email"), options(server, pem, **change))
    assert told in str(refusal.value)


@pytest.mark.parametrize(
    ("verb", "reply", "status"),
    [
        ("RCPT", "550 5.1.1 no such box", "refused"),
        ("RCPT", "553 5.1.3 bad name", "refused"),
        ("DATA", "554 5.6.0 no", "refused"),
        ("after", "552 5.3.4 too big", "refused"),
        ("after", "", "unknown"),
    ],
)
def test_what_is_settled_is_never_handed_over_again(server, pem, verb, reply, status):
    """RFC 5321, 4.2.1: 5yz is a permanent negative reply; a line that breaks after the text is neither."""
    server.replies[verb] = reply
    told = outcome(options(server, pem))
    assert not told.untouched
    assert told.answer.status == status
    assert reply in told.answer.said


@pytest.mark.parametrize(
    ("verb", "reply"),
    [
        ("EHLO", "421 4.3.2 closing"),
        ("AUTH", "535 5.7.8 no"),
        ("MAIL", "553 5.7.1 not your address"),
        ("MAIL", ""),
        ("RCPT", "450 4.2.1 later"),
        ("RCPT", ""),
        ("DATA", "451 4.3.0 later"),
        ("after", "452 4.2.2 full"),
    ],
)
def test_what_may_be_tried_again_is_certainly_unsent(server, pem, verb, reply):
    """RFC 5321, 4.2.1: 4yz is a transient negative reply; and what is wrong with us can be put right."""
    server.replies[verb] = reply
    told = outcome(options(server, pem))
    assert told.untouched
    assert told.fault.startswith("Plugin notify_email cannot answer: ")
    del server.replies[verb]
    assert send(options(server, pem)).status == "accepted"


def test_a_wrong_password_is_told_and_not_shown(server, pem):
    told = outcome(options(server, pem) | {"password": "brass and birch"})
    assert "does not let leeboard in (535); check user and password" in told.fault
    assert "brass" not in told.fault


def test_a_server_that_is_away_is_told(server, pem):
    with mail_server.serving(pem) as gone:
        pass
    told = outcome(options(gone, pem))
    assert told.untouched
    assert f"localhost:{gone.port} cannot be spoken to" in told.fault


@pytest.mark.parametrize(
    "to",
    [
        "ames",
        "ames@pell.test, x@y.test",
        "ames@pell.test\r\nBcc: x@y.test",
        "<ames@pell.test>",
        "ames@pell.test> ORCPT=x",
        "a b@pell.test",
        "ämes@pell.test",
        "@pell.test",
    ],
)
def test_what_is_no_one_address_is_refused_before_anyone_is_called(server, pem, to):
    receipt = send(options(server, pem), replace(MAIL, to=to))
    assert receipt.status == "refused"
    assert server.said == []


def test_a_domain_in_letters_of_its_own_is_written_as_servers_take_it(server, pem):
    """Punycode of RFC 3492; that bücher becomes xn--bcher-kva is from memory."""
    send(options(server, pem), replace(MAIL, to="ames@bücher.test"))
    assert server.recipients == ["TO:<ames@xn--bcher-kva.test>"]


@pytest.mark.parametrize("gap", ["\r\n", "\n", "\r", "\u2028", "\x85", "\x0b", "\0"])
def test_no_subject_and_no_name_begins_another_header(server, pem, gap):
    wicked = f"We come{gap}Bcc: x@y.test{gap}{gap}Another body"
    given = options(server, pem, sender_name=f"Pell{gap}Reply-To: x@y.test")
    assert send(given, replace(MAIL, subject=wicked)).status == "accepted"
    letter = only(server)
    assert letter["Bcc"] is None
    assert letter["Reply-To"] is None
    assert letter["Subject"] == "We come Bcc: x@y.test Another body"
    assert server.recipients == ["TO:<ames@pell.test>"]


def test_the_same_message_has_the_same_name_and_another_has_another(server, pem):
    for message in (MAIL, MAIL, replace(MAIL, key="another")):
        send(options(server, pem), message)
    names = [
        message_from_bytes(letter, policy=policy.default)["Message-ID"]
        for letter in server.letters
    ]
    assert names[0] == names[1] != names[2]
    assert names[0].endswith("@pell.test>")


def test_an_arrival_carries_its_visit_for_the_calendar(server, pem):
    body = "We come; be there, please.\nBring \\ the key. " + "ü" * 80
    send(options(server, pem), replace(MAIL, appointment=VISIT, body=body))
    (part,) = only(server).iter_attachments()
    assert (part.get_content_type(), part.get_filename()) == (
        "text/calendar",
        "visit.ics",
    )
    assert part["Content-Type"].params["method"] == "PUBLISH"
    raw = part.get_payload(decode=True)
    lines = raw.split(b"\r\n")
    assert all(len(line) <= 75 for line in lines)
    text = raw.decode().replace("\r\n ", "")
    told = dict(line.split(":", 1) for line in text.split("\r\n") if ":" in line)
    # 08:10 in Pell Harbor in May is 12:10 UTC (four hours behind in summer).
    assert (told["DTSTART"], told["DTEND"]) == ("20270524T121000Z", "20270524T131000Z")
    assert told["DTSTAMP"] == "20270523T121000Z"
    assert told["SEQUENCE"] == "1"
    assert told["LOCATION"] == r"Marrow Road\; shed 2"
    assert told["SUMMARY"] == "Second Wind: we come"
    assert told["DESCRIPTION"] == (
        r"We come\; be there\, please.\nBring \\ the key. " + "ü" * 80
    )
    assert text.startswith("BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:")
    assert text.endswith("END:VEVENT\r\nEND:VCALENDAR\r\n")


def test_a_letter_about_no_visit_has_no_attachment(server, pem):
    send(options(server, pem))
    assert list(only(server).iter_attachments()) == []


def test_a_visit_that_will_not_be_is_taken_back(server, pem):
    """RFC 5546, 3.2.5: METHOD:CANCEL, the event's own UID, a higher SEQUENCE, STATUS:CANCELLED."""
    off = replace(VISIT, sequence=3, cancelled=True)
    send(options(server, pem), replace(MAIL, appointment=VISIT))
    send(options(server, pem), replace(MAIL, key="another", appointment=off))
    first, last = (next(letter.iter_attachments()) for letter in letters(server))
    assert last["Content-Type"].params["method"] == "CANCEL"
    told, gone = (p.get_payload(decode=True).decode() for p in (first, last))
    assert "METHOD:CANCEL" in gone
    assert "STATUS:CANCELLED" in gone
    assert "SEQUENCE:3" in gone
    (uid,) = (line for line in told.splitlines() if line.startswith("UID:"))
    assert uid in gone
