"""People, wheels, stores and new places: who opens the pages, what is stored, what is refused."""

from datetime import date, time

import pytest
from django.utils.html import strip_tags

from dispatch.actions import book
from dispatch.records.models import (
    Account,
    Can,
    Duty,
    Equipment,
    HistoryEntry,
    JobKind,
    KeptApart,
    Outfit,
    Person,
    Place,
    Sheet,
    Skill,
    Standing,
    Van,
)
from tests.actions import plans, shop
from tests.web import people
from tests.web.owner.test_book import fields

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
PAGES = (
    "/people/",
    "/people/new/",
    "/people/teague/",
    "/wheels/",
    "/wheels/vans/new/",
    "/wheels/vans/knot/",
    "/wheels/gear/new/",
    "/wheels/gear/the-shed/",
    "/stores/",
    "/stores/new/",
    "/places/new/",
)


@pytest.fixture
def house():
    shop.outfit()
    shop.catalogue()
    base = shop.driveway(key="s0", name="Shop", is_base=True)
    teague = Person.objects.create(
        key="teague", name="Teague Amsel", initials="TA", drives=True, tows=True
    )
    Person.objects.create(key="rook", name="Rook Ferrante", initials="RF")
    Skill.objects.create(person=teague, name="hood", fit_test_until=date(2027, 5, 1))
    Duty.objects.create(person=teague, weekday=0, start=time(7), end=time(17))
    Van.objects.create(
        key="knot", name="Knot", base=base, seats=5, tow_rating_kg=1587,
        gear=["hand-tools"], carries={"water_l": 189, "tarps": 2},
        duty_start=time(6), duty_end=time(18),
    )  # fmt: skip
    shed = Equipment.objects.create(
        key="the-shed", name="The Shed", kind="spray-trailer", towed=True,
        weight_kg=1270, screens=True,
    )  # fmt: skip
    Standing.objects.create(equipment=shed, place=base, since=plans.at(22, "18:00"))
    return base


@pytest.fixture
def orla(client, house):
    account = people.owner()
    client.force_login(account)
    return account


@pytest.mark.parametrize("page", PAGES)
def test_strangers_and_crew_are_refused_and_the_owner_is_not(client, house, page):
    assert client.get(page).status_code == 302
    client.force_login(people.crew())
    assert client.get(page).status_code == 403
    client.force_login(people.owner())
    assert client.get(page).status_code == 200


@pytest.mark.parametrize(
    "page", ["/people/teague/", "/wheels/vans/knot/", "/wheels/gear/the-shed/"]
)
def test_a_form_sent_back_as_it_stands_changes_nothing(client, orla, page):
    answer = client.post(page, fields(client.get(page)), follow=True)
    assert "Nothing was different" in answer.text
    assert not HistoryEntry.objects.exists()
    assert Van.objects.get().carries == {"water_l": 189, "tarps": 2}
    assert Standing.objects.count() == 1


def test_a_fit_test_out_of_date_is_said_on_the_list(client, orla):
    assert "hood not in date" in client.get("/people/").text
    Skill.objects.update(fit_test_until=date(2027, 9, 30))
    assert "not in date" not in client.get("/people/").text
    Skill.objects.update(fit_test_until=None)
    assert "hood not in date" in client.get("/people/").text


def test_days_in_a_row_with_the_same_hours_are_told_once(client, orla):
    teague = Person.objects.get(key="teague")
    for weekday, end in ((1, 17), (2, 17), (4, 17), (5, 14)):
        Duty.objects.create(
            person=teague, weekday=weekday, start=time(7), end=time(end)
        )
    told = strip_tags(client.get("/people/").text)
    assert "Mon to Wed 07:00-17:00, Fri 07:00-17:00, Sat 07:00-14:00" in told


def test_a_persons_skill_hours_pay_and_who_is_kept_apart_are_set(client, orla):
    sent = fields(client.get("/people/teague/")) | {
        "skill_spray-1": "3",
        "fit_hood": "2027-09-30",
        "mon_from": "",
        "mon_to": "",
        "tue_from": "06:30",
        "tue_to": "17:30",
        "cents_per_hour": "42",
        "apart": "rook ferrante",
        "why": "New season",
    }
    client.post("/people/teague/", sent)
    row = Person.objects.get(key="teague")
    assert row.cents_per_hour == 4200
    assert dict(row.skills.values_list("name", "level")) == {"hood": 1, "spray-1": 3}
    assert [(d.weekday, d.start) for d in row.duties.all()] == [(1, time(6, 30))]
    assert KeptApart.objects.get().second.key == "rook"
    assert HistoryEntry.objects.filter(verb="set-person", why="New season").count() == 8


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"tows": "on", "drives": None}, "Whoever tows drives"),
        ({"mon_to": "06:00"}, "give both times"),
        ({"apart": "Nobody Known"}, "There is no other person Nobody Known"),
        ({"cents_per_hour": "nan"}, "Give a number from"),
        ({"skill_hood": ""}, "A fit test is of a skill"),
    ],
)
def test_what_does_not_go_together_is_said_and_nothing_changes(
    client, orla, wrong, said
):
    sent = fields(client.get("/people/teague/")) | wrong
    sent = {name: value for name, value in sent.items() if value is not None}
    answer = client.post("/people/teague/", sent)
    assert answer.status_code == 422
    assert said in answer.text
    assert not HistoryEntry.objects.exists()


def test_somebody_new_gets_a_sign_in_and_one_who_left_gets_no_page(client, orla):
    sent = fields(client.get("/people/new/")) | {
        "name": "Dov Halloran",
        "initials": "DH",
        "seen": "",
    }
    client.post("/people/new/", sent)
    dov = Person.objects.get(key="dov-halloran")
    answer = client.post(
        "/people/dov-halloran/sign-in/", {"password": "1234"}, follow=True
    )
    assert "too short" in answer.text
    assert not Account.objects.filter(person=dov).exists()
    client.post("/people/dov-halloran/sign-in/", {"password": people.PASSWORD})
    account = Account.objects.get(person=dov)
    assert account.role == "crew"
    assert client.login(
        request=answer.wsgi_request, username="dov-halloran", password=people.PASSWORD
    )
    assert client.get("/route/").status_code == 200
    Person.objects.update(active=False)
    assert client.get("/route/").status_code == 403


def test_a_trailer_stands_where_it_was_put_from_now_on(client, orla):
    shop.driveway()
    sent = fields(client.get("/wheels/gear/the-shed/")) | {"stands": "s5"}
    client.post("/wheels/gear/the-shed/", sent)
    last = Standing.objects.order_by("since").last()
    assert (last.place.key, last.since) == ("s5", shop.NOW)
    assert "Marrow Road" in client.get("/wheels/").text


def test_a_van_is_added_in_pounds_gallons_and_miles_and_kept_in_si(client, orla):
    sent = fields(client.get("/wheels/vans/new/")) | {
        "name": "Eider", "tow_rating_kg": "7000", "water_l": "50", "gear": "washer, hand-tools, washer",
        "duty_start": "06:00", "duty_end": "18:30", "cents_per_km": "0.72", "seen": "",
    }  # fmt: skip
    client.post("/wheels/vans/new/", sent)
    van = Van.objects.get(key="eider")
    # 7,000 lb are 3,175.1 kg and 50 US gallons 189.27 l by definition of the units.
    assert van.tow_rating_kg == pytest.approx(3175.147, abs=0.001)
    assert van.carries["water_l"] == pytest.approx(189.271, abs=0.001)
    # What a new van's page begins with was left as it was shown.
    assert (van.gear, van.cents_per_km) == (["washer", "hand-tools"], 45)


def test_what_a_van_may_tow_holds_and_costs_stands_as_it_was_written(client, orla):
    written = {"tow_rating_kg": "3500", "water_l": "50", "cents_per_km": "0.7"}
    sent = fields(client.get("/wheels/vans/new/"))
    sent |= {"name": "Eider", "duty_start": "06:00", "duty_end": "18:30", "seen": ""}
    client.post("/wheels/vans/new/", sent | written)
    shown = fields(client.get("/wheels/vans/eider/"))
    assert {name: shown[name] for name in written} == written


@pytest.fixture
def wanting(house):
    """A job that wants 32.1 oz and 10 % in case of a product of which one can of 32 oz is sealed."""
    sheet = shop.one_part(opened_shelf_days=30)
    boat = shop.boat(shop.driveway())
    job = book.take_job(
        key="j1", boat=boat, kind=JobKind.objects.get(key="spray-coat"), sheet=sheet,
        promise="range", promised_by=plans.at(29, "17:00"),
    )  # fmt: skip
    Can.objects.create(sheet=sheet, left_ml=946.353)
    Can.objects.create(sheet=sheet, left_ml=591.5, opened_on=date(2027, 4, 20))
    return job


def test_what_runs_short_is_told_with_its_last_moment_to_order(client, orla, wanting):
    told = client.get("/stores/").text.replace("\N{NO-BREAK SPACE}", " ")
    # 32.1 x 1.1 = 35.3 oz against 32: 3.3 short; the open can is 33 days old of 30 and not counted.
    assert "3.3 oz short from Saturday 29 May, 1 can to buy" in told
    assert "past its days" in told
    # Two working days before Saturday 08:00 is Thursday 08:00, 12 hours to spare Wednesday 20:00, and orders are taken until noon.
    assert "Order by Wednesday 26 May, 12:00" in told


def test_enough_in_store_is_not_called_short(client, orla, wanting):
    sheet = Sheet.objects.get()
    client.post(
        "/stores/new/",
        {"sheet": sheet.key, "count": "2", "left_ml": "32", "opened_on": ""},
    )
    assert "Nothing runs short" in client.get("/stores/").text


def test_a_count_is_set_and_spoilt_cans_are_taken_out_with_their_reason(
    client, orla, wanting
):
    can = Can.objects.get(opened_on=None)
    page = f"/stores/{can.pk}/"
    client.post(page, fields(client.get(page)) | {"count": "3", "why": "Counted"})
    can.refresh_from_db()
    assert (can.count, can.left_ml) == (3, 946.353)
    client.post(f"{page}remove/", {"why": "Skinned over"})
    assert not Can.objects.filter(pk=can.pk).exists()
    assert HistoryEntry.objects.filter(verb="remove-can", why="Skinned over").exists()


def test_a_place_is_added_with_its_hours(client, orla):
    sent = fields(client.get("/places/new/")) | {
        "name": "Quarry Lane", "latitude": "44.08", "longitude": "-69.195", "seen": "",
    }  # fmt: skip
    assert client.post("/places/new/", sent | {"latitude": "-69", "longitude": "200"}).status_code == 422  # fmt: skip
    answer = client.post("/places/new/", sent)
    place = Place.objects.get(name="Quarry Lane")
    assert answer.url == f"/places/{place.key}/"
    assert [row.weekday for row in place.access_hours.all()] == [0, 1, 2, 3, 4, 5]
    again = client.post("/places/new/", sent | {"name": "quarry lane"})
    assert "There is a place quarry lane already" in again.text


def test_days_away_are_entered_and_taken_back(client, orla):
    away = {"first": "2027-06-07", "last": "2027-06-11", "reason": "Wedding"}
    answer = client.post("/people/teague/away/", away, follow=True)
    assert "Friday 11 June" in answer.text
    assert Person.objects.get(key="teague").days_off.count() == 5
    client.post("/people/teague/away/", {"back": "2027-06-09"})
    assert Person.objects.get(key="teague").days_off.count() == 4
    wrong = {"first": "2027-06-14", "start": "08:00"}
    told = client.post("/people/teague/away/", wrong, follow=True)
    assert "Give both times" in told.text
    assert Person.objects.get(key="teague").days_off.count() == 4


def test_late_in_the_evening_it_is_still_today(client, orla):
    client.post("/people/teague/away/", {"first": "2027-05-24", "reason": "Ill"})
    client.post("/wheels/vans/knot/off/", {"first": "2027-05-24", "reason": "Brakes"})
    Skill.objects.update(fit_test_until=date(2027, 5, 24))
    at = plans.at(24, "21:30")
    Outfit.objects.update(stands_at=at)
    Person.objects.filter(key="teague").update(text_stopped_at=at)
    person = client.get("/people/teague/").text
    assert "Monday 24 May: Ill" in person
    assert "STOP came by text on Mon 24 May 2027, 21:30" in person
    assert "Monday 24 May: Brakes" in client.get("/wheels/vans/knot/").text
    assert "not in date" not in client.get("/people/").text


def test_a_van_is_off_the_road_and_on_it_again(client, orla):
    client.post("/wheels/vans/knot/off/", {"first": "2027-06-07", "reason": "Brakes"})
    assert "Monday 7 June: Brakes" in client.get("/wheels/vans/knot/").text
    client.post("/wheels/vans/knot/off/", {"back": "2027-06-07"})
    assert not Van.objects.get().days_off.exists()
