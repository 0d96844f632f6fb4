"""The crew tells the owner of a boat: words, photos, who may, and what the owner sees of it."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from dispatch.records.models import Account, HistoryEntry, Person, Photo, Reading
from tests.actions import pictures, posted
from tests.web import forms, people

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _kept_here(settings, tmp_path):
    settings.DATA_DIR = tmp_path


@pytest.fixture
def rook():
    return people.crew()


@pytest.fixture
def port(rook):
    stage = posted.sprayed().stages.get(key="port")
    posted.visit(posted.van_day(rook.person), stage, "11:00", 90)
    posted.stand("11:10")
    return stage


def tell(client, stage, words="", *photos: bytes, follow=False):
    files = [SimpleUploadedFile(f"{n}.jpg", one) for n, one in enumerate(photos)]
    given = {"words": words, "photos": files}
    return client.post(f"/route/stages/{stage.pk}/tell/", given, follow=follow)


def test_words_and_photos_reach_the_owner(client, rook, port):
    client.force_login(rook)
    answer = tell(client, port, "Runs at the bow,\n a yard long", pictures.jpeg(), follow=True)  # fmt: skip
    assert "The owner sees it" in answer.text
    row = HistoryEntry.objects.get(verb="tell-snag")
    assert row.sentence == (
        "Second Wind, Spray port, two coats: Runs at the bow, a yard long (1 photo)."
    )
    assert (row.subject, row.actor) == ("job j1", rook.person.name)
    assert (
        Photo.objects.get().words
        == "Spray port, two coats: Runs at the bow, a yard long"
    )
    client.force_login(people.owner())
    assert "Runs at the bow" in client.get("/history/").text
    assert "Runs at the bow" in client.get("/boats/second-wind/card/").text


def test_it_stands_on_the_board_with_who_told_it_until_it_is_dealt_with(
    client, rook, port
):
    client.force_login(rook)
    tell(client, port, "Chalk comes off wet: grade 4")
    tell(client, port, "Gate locked")
    settle = "/week/2027-05-24/told/j1/"
    assert client.post(settle).status_code in (403, 404)
    client.force_login(people.owner())
    board = client.get("/week/2027-05-24/").text
    assert f"{rook.person.name} told Mon 11:10: Spray port, two coats: Gate" in board
    assert "And 1 more, in the history." in board
    assert "Dealt with<" in board
    done = client.post(settle, follow=True).text
    assert "Second Wind: dealt with what was told of her." in done
    assert "told Mon 11:10" not in done.partition('id="news"')[0]
    assert "Nothing was changed" in client.post(settle, follow=True).text


def test_a_report_sent_again_is_taken_once_and_a_refused_one_may_come_again(
    client, rook, port
):
    client.force_login(rook)
    visit, read = f"/route/stages/{port.pk}", {"told_as": "1-a", "heading": "361"}
    words = {"words": "Runs at the bow", "told_as": "1-b"}
    assert (
        client.post(f"{visit}/read/", read | {"reference": "true"}).status_code == 400
    )
    for _ in range(2):
        assert client.post(f"{visit}/tell/", words).status_code == 302
        sent = read | {"heading": "90", "reference": "true"}
        assert client.post(f"{visit}/read/", sent).status_code == 302
    assert HistoryEntry.objects.filter(verb="tell-snag").count() == 1
    assert Reading.objects.count() == 1
    client.post(f"{visit}/tell/", words | {"told_as": "1-c"})
    assert HistoryEntry.objects.filter(verb="tell-snag").count() == 2
    assert (
        client.post(f"{visit}/tell/", words | {"told_as": "x" * 61}).status_code == 400
    )


def test_a_photo_alone_will_do(client, rook, port):
    client.force_login(rook)
    tell(client, port, "", pictures.jpeg(), pictures.png())
    assert "photos (2 photos)" in HistoryEntry.objects.get(verb="tell-snag").sentence


@pytest.mark.parametrize(
    ("words", "photos", "said"),
    [
        (" ", (), "Write what is wrong, or take a photo."),
        ("x" * 501, (), "Keep it under 500 characters"),
        ("Chipped", (b"<svg onload=alert(1)>",), "That is no photo"),
        ("Chipped", (pictures.jpeg(),) * 11, "at most 10 photos"),
    ],
)
def test_what_will_not_do_is_said_and_nothing_is_kept(
    client, port, words, photos, said, settings
):
    client.force_login(Account.objects.get(username="rook"))
    answer = tell(client, port, words, *photos)
    assert answer.status_code == 400
    assert said in answer.text
    assert words.strip()[:500] in answer.text
    assert not HistoryEntry.objects.filter(verb="tell-snag").exists()
    assert not list(settings.DATA_DIR.glob("photos/*"))


def test_whoever_does_not_ride_there_may_not_tell(client, rook, port):
    client.force_login(people.nobodys())
    assert tell(client, port, "Chipped").status_code == 403
    client.logout()
    assert tell(client, port, "Chipped").status_code == 302
    assert not HistoryEntry.objects.filter(verb="tell-snag").exists()


def test_the_owner_is_one_tap_away_where_their_number_is_known(client, rook, port):
    client.force_login(rook)
    assert "call the owner</a>" not in client.get("/route/").text
    owner = people.owner()
    owner.person = Person.objects.create(
        key="orla", name="Orla", initials="OT", phone="+12075550100"
    )
    owner.save()
    assert 'href="tel:+12075550100"' in client.get("/route/").text


def test_refused_words_stay_in_their_field_with_the_sentence_beside_it(
    client, rook, port
):
    client.force_login(rook)
    page = tell(client, port, "Runs & sags", b"no picture").text
    form = forms.on(page, action=f"/route/stages/{port.pk}/tell/")
    assert form.sends["words"] == "Runs & sags"
    told = forms.beside(page, form, "words")
    assert "That is no photo" in told
    assert told.endswith("Choose the photos again.")


def test_what_was_written_is_shown_where_she_is_in_another_van_meanwhile(
    client, rook, port
):
    posted.person("eve", "drive")
    client.force_login(Account.objects.get(username="eve"))
    answer = tell(client, port, "Runs & sags")
    assert answer.status_code == 403
    assert "You wrote: “Runs &amp; sags”" in answer.text
    assert not HistoryEntry.objects.filter(verb="tell-snag").exists()


def test_what_was_written_is_shown_where_no_posted_week_has_her_any_more(
    client, rook, port
):
    client.force_login(rook)
    port.visit.delete()
    answer = tell(client, port, "Runs & sags")
    assert answer.status_code == 400
    assert "is in no posted week any more" in answer.text
    assert "You wrote: “Runs &amp; sags”" in answer.text
