"""The board's snag of a boat that the crew could not get to: photos, the call, letting her go, a fee by the owner's tap."""

import pytest

from dispatch.actions import shut_out
from dispatch.records.models import Customer, Extra, Notice, Setting, ShutOut
from tests.actions import pictures, posted
from tests.web import people

pytestmark = pytest.mark.django_db
WEEK = "/week/2027-05-24/"


@pytest.fixture(autouse=True)
def _kept_here(settings, tmp_path):
    settings.DATA_DIR = tmp_path


@pytest.fixture
def rook():
    return people.crew()


@pytest.fixture
def row(rook):
    prep = posted.sprayed().stages.get(key="prep")
    Customer.objects.update(phone="+12075550123")
    posted.visit(posted.van_day(rook.person), prep, "09:00", 120)
    posted.stand("09:24")
    shut_out.wait(prep, rook.person, posted.at("09:12"))
    shut_out.show(prep, rook.person, [pictures.jpeg()])
    return shut_out.leave(prep, rook.person, posted.at("09:24"))


def test_the_snag_has_the_photo_the_call_and_her_job(client, row):
    client.force_login(people.owner())
    told = client.get(WEEK).text
    assert "could not get to her Mon 09:12, waited" in told
    assert f'<img src="/photos/{row.photos.get().pk}/" alt="Photo 1 of Second Wind"' in told  # fmt: skip
    assert '<a href="tel:+12075550123">Call Ames' in told
    assert '<a href="/jobs/j1/terms/">Her job' in told
    assert '<a href="/settings/prices/">Set what having come in vain costs' in told
    assert "on her job<span" not in told


def test_one_tap_lets_her_go(client, row):
    client.force_login(people.owner())
    told = client.post(f"{WEEK}let-go/{row.pk}/", follow=True).text
    assert "Second Wind can be got to: the next plan has her again" in told
    assert "could not get to her" not in told
    again = client.post(f"{WEEK}let-go/{row.pk}/", follow=True).text
    assert "is not held any more" in again


def test_the_fee_is_put_by_a_tap_alone_and_once(client, row):
    Setting.objects.create(name="prices.in_vain_cents", value=6000)
    client.force_login(people.owner())
    assert "Put $60.00 on her job" in client.get(WEEK).text
    assert not Extra.objects.exists()
    told = client.post(f"{WEEK}charge/{row.pk}/", follow=True).text
    assert "Came in vain, Mon 24 May 09:12: $60.00 is on her job." in told
    assert "Put $60.00 on her job" not in told
    client.post(f"{WEEK}charge/{row.pk}/")
    assert Extra.objects.count() == 1
    assert "Came in vain" in client.get("/jobs/j1/money/").text


def test_a_crew_that_still_waits_offers_the_call_alone(client, row):
    ShutOut.objects.update(left_at=None)
    client.force_login(people.owner())
    told = client.get(WEEK).text
    assert "cannot get to her since Mon 09:12" in told
    assert "let-go" not in told
    assert "Call Ames" in told


def test_her_owner_is_told_by_a_tap_alone_and_once(client, row):
    client.force_login(people.owner())
    assert "Tell Ames that we came" not in client.get(WEEK).text
    Customer.objects.update(text_consent=True)
    assert "Tell Ames that we came" in client.get(WEEK).text
    assert not Notice.objects.filter(reason="came").exists()
    client.post(f"{WEEK}came/{row.pk}/")
    told = client.post(f"{WEEK}came/{row.pk}/", follow=True).text
    assert "Ames was written to of that day already" in told
    assert "Tell Ames that we came" not in told
    assert Notice.objects.filter(reason="came").count() == 1


@pytest.mark.parametrize("what", ["let-go", "charge", "came"])
def test_only_the_owner_may(client, rook, row, what):
    client.force_login(rook)
    assert client.post(f"{WEEK}{what}/{row.pk}/").status_code == 403
    assert ShutOut.objects.get().over_at is None
