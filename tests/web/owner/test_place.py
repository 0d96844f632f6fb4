"""The pages of places: who opens them, what stands in the form, what is changed by it."""

import pytest

from dispatch.records.models import Closure, HistoryEntry, Outfit, Place
from tests.actions import plans, shop
from tests.web import forms, people

pytestmark = pytest.mark.django_db


@pytest.fixture
def place():
    shop.outfit()
    return shop.driveway(
        swing_room_m=12.192,
        neighbours=[{"what": "Car", "bearing_deg": 45, "distance_m": 6.7056}],
    )


@pytest.fixture
def orla(client, place):
    account = people.owner()
    client.force_login(account)
    return account


def fields(client, key="s5") -> dict[str, str]:
    """What a browser would send back of the form as it stands."""
    return forms.on(client.get(f"/places/{key}/").text, of="groups").sends


def test_the_form_sent_back_as_it_stands_changes_nothing(client, orla, place):
    answer = client.post("/places/s5/", fields(client), follow=True)
    assert "Nothing was different" in answer.text
    assert not HistoryEntry.objects.filter(verb="set-place").exists()


def test_its_page_says_what_plugins_and_lists_call_it(client, orla, place):
    page = client.get("/places/s5/").text
    assert "Plugins and lists call it <strong>s5</strong>." in page


def test_numbers_are_in_the_outfits_units(client, orla, place):
    sent = fields(client)
    assert (sent["swing_room_m"], sent["neighbours.0.far"]) == ("40", "22")
    assert "How far, ft" in client.get("/places/s5/").text
    Outfit.objects.update(units="metric")
    assert fields(client)["neighbours.0.far"] == "6.7"
    assert "How far, m" in client.get("/places/s5/").text


def test_what_was_entered_in_metres_reads_in_whole_feet_and_stays_to_the_last_figure(
    client, orla, place
):
    place.water_off_m, place.swing_room_m = 90, 30.5
    place.neighbours = [
        {"what": "Car", "bearing_deg": 45, "distance_m": 90.0, "sheeted": True},
        {"what": "Well", "bearing_deg": 90, "distance_m": 2.8},
    ]
    place.save()
    sent = fields(client)
    assert (sent["water_off_m"], sent["swing_room_m"]) == ("295", "100")
    assert (sent["neighbours.0.far"], sent["neighbours.1.far"]) == ("295", "9.2")
    client.post("/places/s5/", sent | {"swing_room_m": "110", "neighbours.1.far": "12"})
    now = Place.objects.get()
    assert (now.water_off_m, now.swing_room_m) == (90, pytest.approx(33.528))
    assert now.neighbours[0] == place.neighbours[0]
    assert now.neighbours[1]["distance_m"] == pytest.approx(3.6576)


def test_the_heat_rule_a_neighbour_hours_and_a_closure_are_set(client, orla, place):
    sent = fields(client) | {
        "heat_rule": "index",
        "neighbours.1.what": "Well",
        "neighbours.1.bearing": "180",
        "neighbours.1.far": "60",
        "hours.0.from": "08:00",
        "closures.0.reason": "Paving the yard",
        "closures.0.kind": "shut",
        "closures.0.from": "2027-05-26T07:00",
        "closures.0.to": "2027-05-26T18:00",
        "why": "The yard called",
    }
    answer = client.post("/places/s5/", sent, follow=True)
    assert "Set: " in answer.text
    place.refresh_from_db()
    assert place.heat_rule == "index"
    assert [row["what"] for row in place.neighbours] == ["Car", "Well"]
    assert place.neighbours[1]["distance_m"] == pytest.approx(18.288)
    assert f"{place.access_hours.first().start:%H:%M}" == "08:00"
    assert Closure.objects.get().start == plans.at(26, "07:00")
    rows = HistoryEntry.objects.filter(subject="place s5", verb="set-place")
    assert rows.count() == 4
    assert {row.why for row in rows} == {"The yard called"}
    assert "The yard called" in answer.text


def test_a_sprinkler_of_every_week_is_set_and_odd_days_stay_as_they_are(
    client, orla, place
):
    sprinkler = {
        "wettings.0.what": "Lawn sprinkler",
        "wettings.0.days": "01234",
        "wettings.0.from": "06:00",
        "wettings.0.to": "06:30",
    }
    client.post("/places/s5/", fields(client) | sprinkler)
    row = {"what": "Lawn sprinkler", "days": [0, 1, 2, 3, 4]}
    assert Place.objects.get().wettings == [row | {"from": "06:00", "to": "06:30"}]
    odd = [row | {"days": [0, 2], "from": "06:00", "to": "06:30"}]
    Place.objects.update(wettings=odd)
    assert "Mon and Wed</option>" in client.get("/places/s5/").text
    answer = client.post("/places/s5/", fields(client), follow=True)
    assert "Nothing was different" in answer.text
    assert Place.objects.get().wettings == odd


def test_an_emptied_line_is_taken_out(client, orla, place):
    sent = fields(client) | {
        f"neighbours.0.{key}": "" for key in ("what", "bearing", "far")
    }
    client.post("/places/s5/", sent)
    assert Place.objects.get().neighbours == []


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({"latitude": "-123.4"}, "may be swapped"),
        ({"wind_factor": "calm"}, "Give a number from 0 to 3."),
        ({"neighbours.0.far": "near"}, "Car: give how far off it stands"),
        ({"hours.0.to": ""}, "Mon: give both times"),
        ({"wettings.0.what": "Lawn"}, "Lawn: give the time it begins"),
        ({"why": "x" * 501}, "Keep the reason under 500"),
    ],
)
def test_what_will_not_do_stands_at_its_field_and_nothing_is_lost(
    client, orla, place, given, says
):
    answer = client.post("/places/s5/", fields(client) | {"gate": "Code 7"} | given)
    assert answer.status_code == 422
    assert says in answer.text
    assert "Code 7" in answer.text
    assert Place.objects.get().gate == ""


def test_somebody_elses_change_is_not_overwritten(client, orla, place):
    sent = fields(client) | {"gate": "Code 7"}
    Place.objects.update(gate="Code 1")
    answer = client.post("/places/s5/", sent, follow=True)
    assert "was changed while you were writing" in answer.text
    assert Place.objects.get().gate == "Code 1"


def test_the_list_names_every_place(client, orla, place):
    page = client.get("/places/").text
    assert "Marrow Road" in page
    assert "Air or heat index, the stricter" in page


@pytest.mark.parametrize("path", ["/places/", "/places/s5/"])
def test_strangers_and_crew_are_refused(client, place, path):
    assert client.get(path).status_code == 302
    client.force_login(people.crew())
    assert client.get(path).status_code == 403
    assert client.post("/places/s5/", {"gate": "x"}).status_code == 403
    assert Place.objects.get().gate == ""


def test_a_place_there_is_not_has_no_page(client, orla):
    assert client.get("/places/nowhere/").status_code == 404


def test_a_phone_offers_a_minus_where_a_number_may_be_below_nought(client, orla, place):
    form = forms.on(client.get("/places/s5/").text, of="groups")
    keys = {name: one.get("inputmode") for name, one in form.fields.items()}
    assert keys["longitude"] == keys["night_offset_k"] == "text"
    assert keys["sign_in_minutes"] == keys["swing_room_m"] == "decimal"
    card = forms.on(client.get("/places/new/").text, of="groups")
    assert card.fields["longitude"]["inputmode"] == "text"
