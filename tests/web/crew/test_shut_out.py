"""The crew's page where nobody can get to a boat: the wait, the gate's photo, the call, waiting on or leaving, the next boat."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from dispatch.actions import book
from dispatch.records.models import Account, Customer, Outfit, Person, Photo, ShutOut
from tests.actions import pictures, posted, shop
from tests.web import people

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _kept_here(settings, tmp_path):
    settings.DATA_DIR = tmp_path


@pytest.fixture
def rook():
    return people.crew()


@pytest.fixture
def prep(rook):
    job = posted.sprayed()
    Customer.objects.update(phone="+12075550123")
    posted.warm(job.boat.place)
    stage = job.stages.get(key="prep")
    posted.judged(stage)
    posted.visit(posted.van_day(rook.person), stage, "09:00", 120)
    posted.stand("09:12")
    return stage


@pytest.fixture
def curlew(prep):
    """A boat of the same route, at another place under a sky that allows her."""
    lane = shop.driveway(key="lane", name="Quarry Lane", latitude=44.14)
    posted.warm(lane)
    hull = shop.boat(lane, key="curlew", name="Curlew")
    job = book.take_job(key="j2", boat=hull, kind=prep.job.kind, sheet=prep.job.sheet)
    stage = job.stages.get(key="prep")
    posted.judged(stage)
    return posted.visit(prep.visit.van_day, stage, "14:00", 120)


def tell(client, stage, do, **given):
    return client.post(f"/route/stages/{stage.pk}/shut-out/", {"do": do} | given)


def show(client, stage, *photos: bytes):
    files = [SimpleUploadedFile(f"{n}.jpg", one) for n, one in enumerate(photos)]
    address = f"/route/stages/{stage.pk}/shut-out/photo/"
    return client.post(address, {"photos": files})


def test_it_is_offered_with_the_number_to_call(client, rook, prep):
    client.force_login(rook)
    told = client.get("/route/").text
    assert "Cannot get to the boat" in told
    assert "Start the wait of 10 min" in told
    assert '<a class="button call" href="tel:+12075550123">Call Ames</a>' in told


def test_where_no_number_is_known_the_page_says_so(client, rook, prep):
    Customer.objects.update(phone="")
    client.force_login(rook)
    told = client.get("/route/").text
    assert "No number of Ames is entered: call the owner." in told
    assert "Call Ames" not in told


def test_the_wait_is_told_with_its_end_and_what_comes_then_is_unseen(
    client, rook, prep
):
    client.force_login(rook)
    assert tell(client, prep, "wait").status_code == 302
    told = client.get("/route/").text
    assert "WAIT until 09:22" in told
    assert "Waiting on or leaving comes here at 09:22" in told
    due = round(posted.at("09:22").timestamp() * 1000)
    assert f'data-due="{due}" hidden>' in told
    assert "Photo of the gate" in told
    assert "Start the wait" not in told


def test_once_it_is_over_the_choice_and_the_next_boat_stand_there(
    client, rook, prep, curlew
):
    client.force_login(rook)
    tell(client, prep, "wait")
    posted.stand("09:23")
    told = client.get("/route/").text
    assert "data-due" not in told
    assert "Wait 10 min more" in told
    assert "Leave, held for the owner" in told
    assert "<strong>Curlew</strong>, Quarry Lane" in told
    assert "planned for 14:00" in told


def test_left_she_is_held_and_the_next_boat_is_next(client, rook, prep, curlew):
    client.force_login(rook)
    tell(client, prep, "wait")
    posted.stand("09:23")
    tell(client, prep, "leave")
    told = client.get("/route/").text
    assert "is held for the owner. Ask the owner before you go back" in told
    assert "<h3>Go to</h3>" in told
    assert f'class="knot next" id="visit-{curlew.pk}"' in told


def test_a_boat_whose_sky_is_not_known_is_not_named(client, rook, prep, curlew):
    curlew.stage.judged.all().delete()
    client.force_login(rook)
    tell(client, prep, "wait")
    posted.stand("09:23")
    told = client.get("/route/").text
    assert "No other boat of your day could be begun now, as far as is known" in told
    assert "<strong>Curlew</strong>" not in told


def test_photos_are_kept_with_it(client, rook, prep):
    client.force_login(rook)
    tell(client, prep, "wait")
    assert show(client, prep, pictures.jpeg()).status_code == 302
    assert list(ShutOut.objects.get().photos.all()) == list(Photo.objects.all())
    assert "Photo of the gate, 1 sent" in client.get("/route/").text
    refused = show(client, prep, b"no picture")
    assert refused.status_code == 400
    assert "Choose the photos again." in refused.text


def test_a_phone_without_signal_tells_when_it_was(client, rook, prep):
    """Kept at 09:12 and 09:24, both sent at 11:00."""
    Outfit.objects.update(stands_at=posted.at("11:00"))
    client.force_login(rook)

    def kept(clock):
        at = round(posted.at(clock).timestamp() * 1000)
        return {"made_at": at, "ahead": 0, "told_as": clock}

    tell(client, prep, "wait", **kept("09:12"))
    tell(client, prep, "leave", **kept("09:24"))
    tell(client, prep, "leave", **kept("09:24"))
    row = ShutOut.objects.get()
    assert (row.since, row.left_at) == (posted.at("09:12"), posted.at("09:24"))


def test_what_is_refused_stands_beside_it(client, rook, prep):
    client.force_login(rook)
    tell(client, prep, "wait")
    answer = tell(client, prep, "leave")
    assert answer.status_code == 400
    assert "The wait is until Mon 09:22" in answer.text
    assert tell(client, prep, "dance").status_code == 400


def test_strangers_are_refused(client, prep):
    assert tell(client, prep, "wait").status_code in (302, 401)
    client.force_login(people.nobodys())
    assert tell(client, prep, "wait").status_code == 403
    other = Person.objects.create(key="winnie", name="Winnie", initials="WS")
    winnie = Account.objects.create(username="winnie", role="crew", person=other)
    client.force_login(winnie)
    assert tell(client, prep, "wait").status_code == 403
    assert not ShutOut.objects.exists()
