"""What a gateway posts back is taken if it is signed, once; receipts, answers and STOP are done by the worker.

The signature is HMAC-SHA256 (RFC 2104), checked against OpenSSL; STOP and START are common practice of texting.
"""

import json
import time
from datetime import timedelta

import pytest

from dispatch.actions import plugins, sweeping, telling
from dispatch.hooks import signing
from dispatch.records.models import (
    Customer,
    DueWork,
    HistoryEntry,
    JobKind,
    Notice,
    Outfit,
    Person,
    PluginState,
    Post,
    Reply,
)
from tests.actions import shop
from tests.plugins import gateway
from tests.web import people

pytestmark = pytest.mark.django_db
WHERE = "/hear/notify_sms_http/"
SECRET = "cedar and pine"  # noqa: S105 - made up for this test
PHONE, CREW = "+12075550131", "+12075550103"


@pytest.fixture
def sms():
    """A gateway that numbers its messages m-7, and the plugin that hands them to it."""
    with gateway.serving() as one:
        given = {"url": one.url, "id_at": "/messages/0/id", "hear_secret": SECRET}
        plugins.enable("notify_sms_http", given)
        yield one


@pytest.fixture
def notice(sms):
    """A text to a customer who has two boats."""
    shop.outfit()
    shop.catalogue()
    boat = shop.boat(shop.driveway())
    Customer.objects.filter(pk=boat.customer_id).update(phone=PHONE, text_consent=True)
    kind = JobKind.objects.get(key="wash")
    job = boat.jobs.create(key="j1", kind=kind, taken_at=shop.NOW)
    return text(job, boat)


def text(job, boat, fact="j1 visit 2027-05-24"):
    return Notice.objects.create(
        reason="moved",
        fact=fact,
        version="1",
        customer=boat.customer,
        job=job,
        channel="text",
        to=PHONE,
        body="We come.",
        due_at=shop.NOW,
    )


def post(client, data: object, *, secret=SECRET, at=None, **headers: str):
    body = data if isinstance(data, bytes) else json.dumps(data).encode()
    stamp = str(int(time.time()) if at is None else at)
    given = {
        "X-Leeboard-Timestamp": stamp,
        "X-Leeboard-Signature": signing.sign(secret, stamp, body),
    } | headers
    return client.post(WHERE, body, content_type="application/json", headers=given)


def test_the_signature_is_what_another_program_makes_of_the_same():
    """OpenSSL makes it: printf '1800000000.{"id": "m-7"}' | openssl dgst -sha256 -hmac cedar."""
    told = "664c8cbf56ea7b13b96c23824f156f1d13c0330fd1651290f896bb17dc6e2476"
    assert signing.sign("cedar", "1800000000", b'{"id": "m-7"}') == told
    assert signing.right("cedar", "1800000000", f"sha256={told}", b'{"id": "m-7"}')
    assert not signing.right("", "1800000000", signing.sign("", "1800000000", b""), b"")


def test_a_receipt_of_delivery_stands_beside_the_message(client, notice):
    assert telling.drain() == 1
    notice.refresh_from_db()
    assert (notice.said, notice.number, notice.delivery) == (
        "202 number m-7",
        "m-7",
        "",
    )
    assert post(client, {"id": "m-7", "status": "Delivered"}).status_code == 202
    notice.refresh_from_db()
    assert notice.delivery == ""
    sweeping.sweep()
    notice.refresh_from_db()
    assert notice.delivery == "delivered"
    client.force_login(people.owner())
    assert "Arrived" in client.get("/messages/").text


def test_a_message_that_failed_on_its_way_is_to_be_called_by_hand(client, notice):
    telling.drain()
    post(client, {"id": "m-7", "status": "expired"})
    sweeping.sweep()
    client.force_login(people.owner())
    told = client.get("/messages/").text
    assert "Did not arrive" in told
    assert "call by hand" in told


def test_what_arrived_is_not_called_failed_by_a_late_post(client, notice):
    telling.drain()
    post(client, {"id": "m-7", "status": "delivered"})
    post(client, {"id": "m-7", "status": "failed"})
    sweeping.sweep()
    notice.refresh_from_db()
    assert notice.delivery == "delivered"


def test_a_message_of_which_nobody_knew_has_arrived_after_all(client, notice):
    Notice.objects.update(state="unknown", number="m-7")
    post(client, {"id": "m-7", "status": "delivered"})
    sweeping.sweep()
    notice.refresh_from_db()
    assert (notice.state, notice.delivery) == ("sent", "delivered")


def test_the_same_post_is_taken_once(client, notice):
    stamp = int(time.time())
    told = {"from": PHONE, "text": "Thank you"}
    assert post(client, told, at=stamp).status_code == 202
    again = post(client, told, at=stamp)
    assert (again.status_code, again.text) == (409, "This post was taken before.\n")
    signature = signing.sign(SECRET, str(stamp), json.dumps(told).encode())
    shouted = {"X-Leeboard-Signature": f"sha256={signature}"}
    assert post(client, told, at=stamp, **shouted).status_code == 409
    sweeping.sweep()
    assert Reply.objects.count() == 1


def signed_anew(client, told):
    """The service posts the same again, signed a second later, and it is heard."""
    assert post(client, told, at=int(time.time()) + 1).status_code == 202
    sweeping.sweep()


def test_an_answer_posted_again_and_signed_anew_is_heard_once_by_its_number(
    client, notice
):
    stop = {"from": PHONE, "text": "STOP", "id": "r-1"}
    post(client, stop)
    sweeping.sweep()
    post(client, {"from": PHONE, "text": "START", "id": "r-2"})
    sweeping.sweep()
    signed_anew(client, stop)
    assert Reply.objects.count() == 2
    assert Customer.objects.get().text_stopped_at is None
    # Said again under a number of its own it is a new answer.
    post(client, stop | {"id": "r-3"})
    sweeping.sweep()
    assert Reply.objects.count() == 3
    assert Customer.objects.get().text_stopped_at is not None


def test_without_a_number_the_same_words_of_just_now_are_heard_once(client, notice):
    told = {"from": PHONE, "text": "Thank you"}
    post(client, told)
    sweeping.sweep()
    signed_anew(client, told)
    assert Reply.objects.count() == 1
    Outfit.objects.update(stands_at=shop.NOW + timedelta(minutes=11))
    assert post(client, told, at=int(time.time()) + 2).status_code == 202
    sweeping.sweep()
    assert Reply.objects.count() == 2


@pytest.mark.parametrize(
    "how",
    [
        {"secret": "oak"},
        {"late_s": -600},
        {"late_s": 600},
        {"at": "soon"},
        {"X-Leeboard-Signature": ""},
        {"X-Leeboard-Signature": "é"},
        {"X-Leeboard-Timestamp": "1"},
    ],
)
def test_what_is_not_signed_just_now_is_not_taken(client, notice, how):
    # Reckoned now, not when the tests were read: a slow machine may be minutes on by now.
    if "late_s" in how:
        how = {"at": int(time.time()) + how["late_s"]}
    answer = post(client, {"id": "m-7", "status": "delivered"}, **how)
    assert answer.status_code == 401
    assert not Post.objects.exists()
    assert not DueWork.objects.filter(verb="hear").exists()


def test_without_a_secret_nothing_is_taken(client, notice):
    row = PluginState.objects.get()
    PluginState.objects.update(options=row.options | {"hear_secret": ""})
    assert post(client, {"id": "m-7"}, secret="").status_code == 401


def test_a_plugin_that_is_off_or_does_not_hear_takes_nothing(client, notice):
    PluginState.objects.update(enabled=False)
    assert post(client, {"id": "m-7"}).status_code == 401
    assert client.post("/hear/weather_veto/", b"{}", "text/plain").status_code == 401
    assert client.get(WHERE).status_code == 405


@pytest.mark.parametrize(
    ("body", "why"),
    [
        (b"x" * 70_000, "longer than 65536 bytes"),
        (b"\xff\xfe", "no text in UTF-8"),
        (b"a\0b", "zero byte"),
    ],
)
def test_what_cannot_be_kept_is_refused_with_the_reason(client, notice, body, why):
    answer = post(client, body)
    assert answer.status_code == 400
    assert why in answer.text


def test_a_post_that_cannot_be_read_is_a_fault_of_the_plugin(client, notice):
    post(client, {"something": "else"})
    sweeping.sweep()
    assert "option hear_at" in PluginState.objects.get().last_fault
    assert "option hear_at" in Post.objects.get().fault


def test_stop_ends_every_text_to_that_number_and_start_lets_them_go(client, notice):
    """Two boats of one phone, texts due: none goes, and the owner has two cards to call by hand."""
    second = text(notice.job, notice.job.boat, fact="j2 visit 2027-05-24")
    post(client, {"from": PHONE.removeprefix("+"), "text": " Stop. "})
    sweeping.sweep()
    assert telling.drain() == 0
    for one in (notice, second):
        one.refresh_from_db()
        assert (one.state, one.said) == ("dropped", "STOP came in: call by hand")
    customer = Customer.objects.get()
    assert customer.text_stopped_at is not None
    assert "wants no more texts" in HistoryEntry.objects.get(verb="text-stop").sentence
    client.force_login(people.owner())
    assert client.get("/messages/").text.count("STOP came in: call by hand") == 3
    post(client, {"from": PHONE, "text": "START"})
    sweeping.sweep()
    customer.refresh_from_db()
    assert customer.text_stopped_at is None


def test_stop_of_one_of_the_crew_ends_the_texts_to_them_alone(client, notice):
    rook = Person.objects.create(key="rook", name="Rook", initials="RF", phone=CREW)
    post(client, {"from": CREW, "text": "STOP"})
    sweeping.sweep()
    rook.refresh_from_db()
    assert rook.text_stopped_at is not None
    assert Customer.objects.get().text_stopped_at is None
    line = HistoryEntry.objects.get(verb="text-stop")
    assert (line.subject, line.actor) == ("person rook", "crew")
    client.force_login(people.owner())
    assert "Rook <span" in client.get("/messages/").text
    assert "no texts go to Rook until START" in client.get("/people/rook/").text


def test_what_people_write_is_shown_to_the_owner_with_their_name(client, notice):
    post(client, {"from": PHONE, "text": "Is <b>Tuesday</b> fine?"})
    post(client, {"from": "+12075559999", "text": "Who is this?"})
    sweeping.sweep()
    client.force_login(people.owner())
    told = client.get("/messages/").text
    assert "Is &lt;b&gt;Tuesday&lt;/b&gt; fine?" in told
    assert notice.customer.name in told
    assert "Nobody we know" in told


def test_a_list_of_parts_in_one_post(client, notice):
    telling.drain()
    row = PluginState.objects.get()
    at = "each /results\nid /messageId\nstate /status/name\nfrom /from\ntext /text"
    PluginState.objects.update(options=row.options | {"hear_at": at})
    parts = [
        {"messageId": "m-7", "status": {"name": "DELIVERED"}},
        {"messageId": "m-8", "status": {"name": "PENDING"}},
    ]
    post(client, {"results": parts})
    sweeping.sweep()
    notice.refresh_from_db()
    assert notice.delivery == "delivered"


def test_the_owner_is_told_where_to_have_it_posted(client, notice):
    client.force_login(people.owner())
    assert "http://testserver/hear/notify_sms_http/" in (
        client.get("/plugins/notify_sms_http/").text
    )
