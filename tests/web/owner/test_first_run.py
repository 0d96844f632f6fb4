"""The first run: an empty house, its owner, the steps to a first week; sample data; nothing for whoever comes later."""

import re

import pytest

from dispatch.actions import clock, first_run, first_sky, first_steps
from dispatch.actions.first_steps import Step
from dispatch.records.models import (
    Account,
    Boat,
    DueWork,
    HistoryEntry,
    JobKind,
    Outfit,
    Person,
    Place,
    PluginState,
    Sheet,
    WeekPlan,
)
from tests.actions import shop
from tests.trade.lanternglass import ONE_PART
from tests.web import forms, people
from tests.web.owner.test_book import fields
from tests.web.owner.test_walk_round import NEW

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
MINE = {
    "outfit": "Tarrow & Daughter", "town": "Pell Harbor", "time_zone": "America/New_York", "units": "us",
    "name": "Orla Tarrow", "initials": "OT", "username": "Orla",
    "password": people.PASSWORD, "again": people.PASSWORD, "word": first_run.word(),
}  # fmt: skip


def test_an_empty_house_leads_whoever_comes_to_its_first_page(client):
    assert client.get("/", follow=True).redirect_chain[-1][0].startswith("/start/")
    assert "has no owner yet" in client.get("/start/").text


def test_it_is_made_somebodys_who_is_signed_in_with_the_stage_catalogue(client):
    answer = client.post("/start/", MINE, follow=True)
    assert "Next: the base" in answer.text
    account = Account.objects.get(username="orla")
    assert (account.role, account.person.name) == ("owner", "Orla Tarrow")
    assert Outfit.objects.get().stands_at is None
    assert JobKind.objects.count() == 9


def test_whoever_comes_later_cannot_take_it_again(client):
    client.post("/start/", MINE)
    client.logout()
    for path in ("/start/", "/start/sample/"):
        client.post(path, MINE | {"username": "mallory"}, follow=True)
    assert list(Account.objects.values_list("username", flat=True)) == ["orla"]
    assert (
        client.get("/start/", follow=True).redirect_chain[-1][0].startswith("/sign-in/")
    )
    client.force_login(people.crew())
    assert client.get("/start/steps/").status_code == 403


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"again": "other"}, "passwords differ"),
        ({"password": "12345678", "again": "12345678"}, "too common"),
        ({"time_zone": "Maine"}, "There is no time zone Maine"),
        ({"outfit": ""}, "Fill this in"),
        ({"username": "or la"}, "small letters"),
        ({"word": "aaaa-aaaa"}, "That is not the word of this house"),
        ({"word": ""}, "That is not the word of this house"),
    ],
)
def test_what_will_not_do_is_said_and_nothing_is_stored(client, wrong, said):
    answer = client.post("/start/", MINE | wrong)
    assert answer.status_code == 422
    assert said in answer.text
    assert first_run.empty()
    assert not JobKind.objects.exists()
    assert not Person.objects.exists()


def test_a_password_is_asked_for_again_where_another_field_will_not_do(client):
    page = client.post("/start/", MINE | {"time_zone": "Maine"}).text
    form = forms.on(page, of="groups")
    assert form.sends["outfit"] == MINE["outfit"]
    assert form.sends["password"] == ""
    assert "Write it again, twice" in forms.beside(page, form, "password")
    assert MINE["password"] not in page


def test_from_nothing_to_a_first_week_step_by_step(client):
    client.post("/start/", MINE)

    def go(page: str, sent: dict[str, str]) -> None:
        stands = fields(client.get(f"{page}?start=yes"))
        answer = client.post(f"{page}?start=yes", stands | sent | {"seen": ""})
        assert answer.status_code == 302, answer.context["faults"]
        assert answer.url == "/start/steps/"

    go("/places/new/", {"name": "Shop", "latitude": "44.09", "longitude": "-69.12", "declination_deg": "-15.5"})  # fmt: skip
    go("/people/new/", {"name": "Teague", "initials": "T", "drives": "on", "skill_prep": "1", "mon_from": "07:00", "mon_to": "17:00"})  # fmt: skip
    go("/wheels/vans/new/", {"name": "Knot", "duty_start": "06:00", "duty_end": "18:00"})  # fmt: skip
    go("/products/new/", sheet())
    assert "Next: a boat and her job" in client.get("/start/steps/").text
    product = Sheet.objects.get()
    answer = client.post(
        "/walk-round/?start=yes", NEW | {"do": "agreed", "job.sheet": product.key}
    )
    assert answer.url == "/start/steps/"
    page = client.get("/start/steps/").text
    assert "Next: what the work needs aboard" in page
    assert "No van carries polisher or washer" in page
    go("/wheels/vans/knot/", {"gear": "hand-tools, polisher, washer"})
    page = client.get("/start/steps/").text
    assert "Next: what the work asks of people" in page
    assert "Nobody on duty has a level in decals, hose, interior" in page
    names = ("lead", "polish", "decals", "hose", "interior", "mask", "repair", "spray-1")  # fmt: skip
    able = {f"skill_{name}": "1" for name in names} | {"mon_from": "07:00", "mon_to": "17:00"}  # fmt: skip
    go("/people/orla/", able)
    assert "Next: a sky" in client.get("/start/steps/").text
    owner = Account.objects.get(username="orla")
    done = {step.name: step.done for step in first_steps.steps(owner)}
    assert [name for name, there in done.items() if not there] == [
        "A sky",
        "The first week",
    ]
    client.post(f"/week/{_monday()}/build/")
    assert WeekPlan.objects.exists()


def test_a_step_that_may_wait_is_passed_over_by_taking_a_later_one():
    def step(name: str, *, done: bool = False, may_wait: bool = False) -> Step:
        return Step(page="week", name=name, why="", done=done, may_wait=may_wait)

    base, self, van = step("base", done=True), step("self", may_wait=True), step("van")
    assert first_steps.lacking((base, self, van)) == (self, van)
    there = step("van", done=True)
    assert first_steps.lacking((base, self, there)) == ()
    assert first_steps.lacking((step("base"), self, there)) == (step("base"),)


def test_the_page_of_a_step_that_may_wait_leads_past_it_too(client):
    client.post("/start/", MINE)
    sent = {"name": "Shop", "latitude": "44.09", "longitude": "-69.12"}
    client.post("/places/new/", fields(client.get("/places/new/")) | sent)
    sent = {"name": "Teague", "initials": "T"}
    client.post("/people/new/", fields(client.get("/people/new/")) | sent)
    assert "Next: yourself" in client.get("/start/steps/").text
    page = client.get("/start/steps/").text
    assert 'href="/people/orla/?start=yes">Go on: yourself' in page
    assert "Not needed: on to a van" in page
    offered = fields(client.get("/people/orla/?start=yes"))
    assert (offered["mon_from"], offered["fri_to"]) == ("07:00", "17:00")
    client.post("/people/orla/?start=yes", offered | {"skill_lead": "1"})
    assert "Next: a van" in client.get("/start/steps/").text


def test_the_limits_of_a_first_sky_are_turned_on_in_one_go(client):
    client.post("/start/", MINE)
    page = client.get("/start/sky/").text
    assert "Turn on those that need nothing more" in page
    answer = client.post("/start/sky/", follow=True)
    on = set(PluginState.objects.filter(enabled=True).values_list("name", flat=True))
    assert on == {"weather_veto", "sun_veto", "site_hours"}
    assert "Turn on those that need nothing more" not in answer.text
    assert "off, asks for particulars first" in answer.text  # the tide's
    assert not first_sky.told()
    stored = HistoryEntry.objects.filter(subject__startswith="plugin ").count()
    assert stored == len(on)


def test_turning_on_a_forecast_leads_back_to_the_sky(client, tmp_path):
    client.post("/start/", MINE)
    client.post("/start/sky/")
    sent = {"v:folder": str(tmp_path), "v:file": "forecast.csv"}
    answer = client.post("/plugins/weather_file/?start=yes", sent)
    assert answer.url == "/start/sky/"
    assert first_sky.told()


def test_the_sky_of_a_first_week_is_for_the_owner_alone(client):
    shop.outfit()
    client.force_login(people.crew())
    assert client.get("/start/sky/").status_code == 403
    assert client.post("/start/sky/").status_code == 403
    assert not PluginState.objects.filter(enabled=True).exists()


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("New York", "Write it as America/New_York."),
        ("eastern", "Write it as US/Eastern or Canada/Eastern."),
        ("Pell Harbor", "Write it as America/New_York."),
    ],
)
def test_a_zone_that_is_none_is_answered_with_those_it_may_be(client, written, said):
    answer = client.post("/start/", MINE | {"time_zone": written})
    assert said in answer.text


def test_a_pair_from_a_map_may_be_pasted_in_one_field(client):
    client.post("/start/", MINE)
    sent = {"name": "Shop", "latitude": "44.0935, -69.124", "longitude": ""}
    client.post("/places/new/", fields(client.get("/places/new/")) | sent)
    place = Place.objects.get()
    assert (place.latitude, place.longitude) == (44.0935, -69.124)


def test_somebody_new_begins_with_the_hours_of_whoever_came_last(client):
    client.post("/start/", MINE)
    first = fields(client.get("/people/new/"))
    assert (first["mon_from"], first["fri_to"], first["sat_from"]) == ("07:00", "17:00", "")  # fmt: skip
    sent = {"name": "Teague", "initials": "T", "mon_from": "06:00", "sat_from": "07:30", "sat_to": "12:00"}  # fmt: skip
    client.post("/people/new/", first | sent)
    after = fields(client.get("/people/new/"))
    assert (after["mon_from"], after["sat_to"], after["name"]) == ("06:00", "12:00", "")


def _monday() -> str:
    today = clock.today()
    return str(today.fromordinal(today.toordinal() - today.weekday()))


def sheet() -> dict[str, str]:
    """The one-part sheet of the study, as its numbers are printed: in °F, mph, ounces."""
    return {
        "name": "Lanternglass One", "kind": "one-part", "pack_ml": "32", "pack_cents": "46",
        "air_min_c": "55", "air_max_c": "88", "surface_min_c": "55", "surface_max_c": "95",
        "rh_max_pct": "82", "spread_min_k": "5", "wind_max_ms": "10", "gust_max_ms": "14",
        "screened_wind_max_ms": "13", "screened_gust_max_ms": "18", "flash_ref_minutes": "25",
        "recoat_latest_ref_h": "6", "rain_safe_ref_h": "4", "sandable_ref_h": "14", "cure_min_c": "50",
        "opened_shelf_days": "30", "people": "cartridge mask, gloves",
    }  # fmt: skip


def test_a_product_entered_as_printed_is_the_one_the_trade_reckons_with(client):
    """The numbers of the study's one-part sheet, entered in US units, against the same in SI."""
    client.post("/start/", MINE)
    client.post("/products/new/", fields(client.get("/products/new/")) | sheet())
    row = Sheet.objects.get()
    for name in (
        "air_min_c", "air_max_c", "surface_max_c", "spread_min_k", "gust_max_ms",
        "screened_gust_max_ms", "flash_ref_minutes", "rain_safe_ref_h", "sandable_ref_h", "cure_min_c",
    ):  # fmt: skip
        assert getattr(row, name) == pytest.approx(getattr(ONE_PART, name)), name
    DueWork.objects.all().delete()
    page = f"/products/{row.key}/"
    same = client.post(page, fields(client.get(page)), follow=True)
    assert "Nothing was different" in same.text
    wrong = fields(client.get(page)) | {"air_max_c": "40"}
    assert "The most lies below the least" in client.post(page, wrong).text
    client.post(page, fields(client.get(page)) | {"rh_max_pct": "80"})
    assert DueWork.objects.filter(verb="judge-book").exists()


def test_sample_data_are_one_click_away_and_their_clock_stands(client):
    assert "Fill it with sample data" not in client.get("/start/").text
    page = client.get(f"/start/?word={MINE['word']}").text
    assert "Fill it with sample data" in page
    answer = client.post("/start/sample/", {"word": MINE["word"]}, follow=True)
    assert "Next: the first week" in answer.text
    assert Boat.objects.count() == 14
    assert Outfit.objects.get().stands_at == shop.NOW
    assert client.get("/week/").status_code == 200
    client.logout()
    (password,) = re.findall(r"sign in as orla with ([a-z2-7-]{19}):", answer.text)
    told = {"username": "orla", "password": password}
    assert client.post("/sign-in/", told).status_code == 302
    assert DueWork.objects.filter(verb="take-in-forecast").count() == 8


def test_a_stranger_who_comes_first_does_not_know_the_word(client, settings):
    answer = client.post("/start/sample/", {"word": "aaaa-aaaa"})
    assert "That is not the word of this house" in answer.text
    assert "not the word" in client.get("/start/?word=aaaa-aaaa").text
    assert first_run.empty()
    assert f'value="{MINE["word"]}"' in client.get(f"/start/?word={MINE['word']}").text
    settings.SECRET_KEY = "another house's secret"  # noqa: S105 - of nobody's house
    assert first_run.word() != MINE["word"]
