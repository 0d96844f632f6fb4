"""Somebody else was quicker: a form comes back with all that was written, what was set meanwhile beside it, and is stored when it is sent again."""

import pytest

from dispatch.actions import (
    boat_marks,
    catalogue,
    customers,
    places,
    plugin_setting,
    plugins,
    settings,
)
from dispatch.hooks import registry
from dispatch.records.models import (
    Boat,
    CatalogueRow,
    Customer,
    JobKind,
    Place,
    PluginState,
    Setting,
)
from dispatch.web.owner import meanwhile
from dispatch.web.owner.meanwhile import Met, Stands
from tests.actions import shop
from tests.web import forms, people

pytestmark = pytest.mark.django_db
STEP = "/settings/catalogue/wash/2/"
KIND = "/settings/catalogue/wash/"
SPRAY = "/settings/spray/"
CARD = "/boats/second-wind/card/"
PLACE = "/places/s5/"
MAIL = {"host": "mail.pell.test", "port": 587, "sender": "orla@tarrow.example"}


@pytest.fixture
def place():
    shop.outfit()
    shop.catalogue()
    return shop.driveway(gate="Code 1", rules="No sanding.\nNo hose.")


@pytest.fixture
def owner(client, place):
    account = people.owner()
    client.force_login(account)
    return account


@pytest.mark.parametrize(
    ("sent", "was", "now", "comes", "says"),
    [
        ("a", "a", "a", "a", ""),
        ("mine", "a", "a", "mine", ""),
        ("a", "a", "theirs", "theirs", "Set to “theirs” while you were writing."),
        ("same", "a", "same", "same", ""),
        ("mine", "a", "theirs", "mine", "It stands at “theirs” now."),
        ("mine", None, "theirs", "mine", "It stands at “theirs” now."),
        ("a\r\nb ", "a\nb", "theirs", "theirs", "Set to"),
    ],
)
def test_a_field_is_whose_it_was_written_by(sent, was, now, comes, says):
    found = meanwhile.met(sent, was, Stands(shown=now, said=meanwhile.quoted(now)))
    assert found.entered == comes
    assert found.said.startswith(says)
    assert bool(found.said) == bool(says)


def test_nothing_is_said_of_what_both_wrote():
    assert meanwhile.met("7", "5", Stands(shown="7", said="7")) == Met(entered="7")


def crossed(client, address, mine, quicker, of="groups"):
    """Open a form, have somebody be quicker, send it: the page that comes back, and its form."""
    sent = forms.on(client.get(address).text, of=of).sends | mine
    quicker()
    answer = client.post(address, sent)
    assert answer.status_code == 422
    assert "was changed while you were writing" in answer.text
    form = forms.on(answer.text, of=of)
    assert {name: form.sends[name] for name in mine} == mine
    return answer.text, form


def test_a_place_comes_back_and_is_stored_over_what_was_looked_at(client, place, owner):
    theirs = {
        "gate": "Code 4",
        "address": "9 Marrow Road",
        "neighbours": [{"what": "Skiff", "bearing_deg": 90.0, "distance_m": 6.096}],
        "horizon": [{"from_deg": 80.0, "to_deg": 100.0, "elevation_deg": 20.0}],
    }
    mine = {
        "gate": "Code 7",
        "rules": "Quiet before 8.",
        "neighbours.0.what": "Truck",
        "neighbours.0.bearing": "10",
        "neighbours.0.far": "30",
        "why": "told by the yard",
    }
    page, form = crossed(
        client, PLACE, mine, lambda: places.change(place, theirs, by=owner)
    )
    assert "It stands at “Code 4” now." in forms.beside(page, form, "gate")
    assert "Set to “9 Marrow Road”" in forms.beside(page, form, "address")
    assert "It stands at Skiff 20 ft off at 90° now." in page
    assert "Set to 20° high from 80° to 100° while you were writing." in page
    assert form.sends["horizon.0.high"] == "20"
    assert forms.beside(page, form, "rules") == ""
    assert Place.objects.get().gate == "Code 4"
    client.post(PLACE, form.sends)
    stands = Place.objects.get()
    assert (stands.gate, stands.rules) == ("Code 7", "Quiet before 8.")
    assert stands.address == "9 Marrow Road"
    assert [one["what"] for one in stands.neighbours] == ["Truck"]
    assert len(stands.horizon) == 1


def test_a_step_comes_back_and_is_stored_over_what_was_looked_at(client, owner):
    row = CatalogueRow.objects.get(kind__key="wash", position=2)
    mine = {"v:per_ft_2": "9", "why": "timed it"}
    theirs = {"per_ft_2": 5.0, "crew_max": 4}
    page, form = crossed(
        client, STEP, mine, lambda: catalogue.change_row(row, theirs, by=owner)
    )
    told = forms.beside(page, form, "v:per_ft_2")
    assert "It stands at 5 labour-minutes a foot now." in told
    assert "Set to 4 people while" in forms.beside(page, form, "v:crew_max")
    client.post(STEP, form.sends)
    row.refresh_from_db()
    assert (row.per_ft_2, row.crew_max) == (9, 4)


def test_a_price_comes_back_and_is_stored_over_what_was_looked_at(client, owner):
    kind = JobKind.objects.get(key="wash")
    theirs = {"cents_per_ft": 480, "name": "Wash down"}
    page, form = crossed(
        client,
        KIND,
        {"per_ft": "5.25", "why": "soap"},
        lambda: catalogue.change_kind(kind, theirs, by=owner),
        of="stacked",
    )
    assert "It stands at $4.80 now." in forms.beside(page, form, "per_ft")
    assert "Set to “Wash down” while" in forms.beside(page, form, "name")
    client.post(KIND, form.sends)
    kind.refresh_from_db()
    assert (kind.name, kind.cents_per_ft) == ("Wash down", 525)


def test_a_limit_comes_back_and_is_stored_over_what_was_looked_at(client, owner):
    mine = {"v:spray.wind_max_ms": "8", "why": "gusty here"}
    page, form = crossed(
        client,
        SPRAY,
        mine,
        lambda: settings.change("spray.wind_max_ms", 4.0233, by=owner),
        of="lines",
    )
    told = forms.beside(page, form, "v:spray.wind_max_ms")
    assert "It stands at 9 mph now." in told
    assert Setting.objects.get().value == 4.0233
    client.post(SPRAY, form.sends)
    assert Setting.objects.get().value == pytest.approx(8 * 0.44704)


def test_limits_set_by_others_alone_are_kept_without_a_word(client, owner):
    form = forms.on(client.get(SPRAY).text, of="lines")
    settings.change("spray.wind_max_ms", 4.0233, by=owner)
    client.post(SPRAY, form.sends | {"v:spray.gust_max_ms": "13"})
    assert Setting.objects.get(name="spray.wind_max_ms").value == 4.0233
    assert Setting.objects.filter(name="spray.gust_max_ms").exists()


def test_a_card_comes_back_with_what_was_left_alone_as_it_stands_now(client, owner):
    boat = shop.boat(Place.objects.get())
    theirs = {"berth": "row 4", "length_m": 7.3152, "on_trailer": False}

    def quicker():
        Boat.objects.filter(pk=boat.pk).update(**theirs)

    mine = {"make": "Hobart 20", "berth": "row 9", "why": "read off the hull"}
    page, form = crossed(client, CARD, mine, quicker)
    assert "It stands at “row 4” now." in forms.beside(page, form, "berth")
    assert "Set to 24 ft while" in forms.beside(page, form, "length_m")
    assert forms.beside(page, form, "make") == ""
    assert form.sends["length_m"] == "24"
    client.post(CARD, form.sends)
    boat.refresh_from_db()
    assert (boat.make, boat.berth) == ("Hobart 20", "row 9")
    assert boat.length_m == pytest.approx(7.3152)


def test_who_is_quicker_twice_is_told_twice(client, owner):
    customer = Customer.objects.create(
        name="Ames", phone="+12075550131", time_zone="America/New_York"
    )
    address = f"/customers/{customer.pk}/"
    change = {"name": "Ames & Son"}
    page, form = crossed(
        client,
        address,
        {"phone": "+12075550132"},
        lambda: customers.change(customer, change, by=owner),
    )
    assert "Set to “Ames &amp; Son” while" in page
    Customer.objects.update(phone="+12075550139")
    answer = client.post(address, form.sends)
    again = forms.on(answer.text, of="groups")
    told = forms.beside(answer.text, again, "phone")
    assert "It stands at “+1 207 555 0139” now." in told
    client.post(address, again.sends)
    customer.refresh_from_db()
    assert (customer.name, customer.phone) == ("Ames & Son", "+12075550132")


def test_a_fault_meanwhile_does_not_hide_that_somebody_was_quicker(
    client, place, owner
):
    sent = forms.on(client.get(PLACE).text, of="groups").sends
    Place.objects.update(gate="Code 4")
    wrong = client.post(PLACE, sent | {"gate": "Code 7", "wind_factor": "calm"})
    form = forms.on(wrong.text, of="groups")
    assert form.sends["gate"] == "Code 7"
    again = client.post(PLACE, form.sends | {"wind_factor": "1"})
    assert "It stands at “Code 4” now." in again.text
    assert Place.objects.get().gate == "Code 4"


def test_a_plugins_option_comes_back_and_another_ones_is_kept(client, owner, tmp_path):
    at = "/plugins/notify_email/"
    plugins.enable("notify_email", MAIL)
    sent = forms.on(client.get(at).text, of="plugin-options").sends
    plugins.enable("notify_email", MAIL | {"host": "post.pell.test", "port": 465})
    mine = {"v:host": "mail.mine.test", "secret:password": "hatch-9", "why": "moved"}
    answer = client.post(at, sent | mine)
    assert answer.status_code == 422
    form = forms.on(answer.text, of="plugin-options")
    assert (form.sends["v:host"], form.sends["why"]) == ("mail.mine.test", "moved")
    assert "Write it again" in forms.beside(answer.text, form, "secret:password")
    assert "hatch-9" not in answer.text
    told = forms.beside(answer.text, form, "v:host")
    assert "It stands at “post.pell.test” now." in told
    assert "Set to “465” while" in forms.beside(answer.text, form, "v:port")
    client.post(at, form.sends)
    options = PluginState.objects.get(name="notify_email").options
    assert (options["host"], options["port"]) == ("mail.mine.test", 465)


def test_a_tick_that_was_left_alone_follows_what_somebody_else_set(client, owner):
    at, name = "/plugins/weather_columnar/", "weather_columnar"
    tick = next(
        o.name for o in registry.named(name).manifest.options if o.kind == "yes-no"
    )
    given = {"address": "https://sky.pell.test"}
    plugins.enable(name, given | {tick: True})
    sent = forms.on(client.get(at).text, of="plugin-options").sends
    assert sent[f"v:{tick}"] == "yes"
    plugins.enable(name, given | {tick: False})
    assert client.post(at, sent).status_code == 302
    assert PluginState.objects.get(name=name).options[tick] is False


def test_her_numbers_come_back_and_the_one_that_was_left_alone_is_kept(client, owner):
    boat = shop.boat(Place.objects.get(), registration="ME 1", hull_number="ABC")
    at, to = f"/boats/{boat.key}/", f"/boats/{boat.key}/marks/"
    sent = forms.on(client.get(at).text, action=to).sends
    Boat.objects.update(hull_number="DEF")
    client.post(to, sent | {"registration": "ME 2"})
    boat.refresh_from_db()
    assert (boat.registration, boat.hull_number) == ("ME 2", "DEF")
    client.post(to, sent | {"hull_number": "GHI", "registration": "ME 2"})
    page = client.get(at).text
    form = forms.on(page, action=to)
    assert form.sends["hull_number"] == "GHI"
    told = forms.beside(page, form, "hull_number")
    assert "The hull number: it stands at “DEF” now." in told
    client.post(to, form.sends)
    boat.refresh_from_db()
    assert (boat.registration, boat.hull_number) == ("ME 2", "GHI")


def first(monkeypatch, verbs, name, theirs):
    """Have somebody else's change stored after a form was looked at, and before it is stored itself."""
    real, told = getattr(verbs, name), []

    def act(*args, **kwargs):
        if not told:
            told.append(True)
            theirs(real)
        return real(*args, **kwargs)

    monkeypatch.setattr(verbs, name, act)


def test_a_limit_that_is_set_just_before_is_told_and_not_stored_over(
    client, owner, monkeypatch
):
    form = forms.on(client.get(SPRAY).text, of="lines")
    theirs = {"spray.wind_max_ms": 4.0233}
    first(monkeypatch, settings, "change_all", lambda act: act(theirs, by=owner))
    mine = {"v:spray.wind_max_ms": "8", "v:spray.gust_max_ms": "13"}
    answer = client.post(SPRAY, form.sends | mine)
    assert answer.status_code == 422
    assert "It stands at 9 mph now." in answer.text
    assert list(Setting.objects.values_list("value")) == [(4.0233,)]


def test_two_limits_set_by_two_at_once_are_not_turned_round(client, owner, monkeypatch):
    form = forms.on(client.get(SPRAY).text, of="lines")
    theirs = {"spray.air_min_c": 29.0}
    first(monkeypatch, settings, "change_all", lambda act: act(theirs, by=owner))
    answer = client.post(SPRAY, form.sends | {"v:spray.air_max_c": "80"})
    assert answer.status_code == 422
    assert list(Setting.objects.values_list("name")) == [("spray.air_min_c",)]


def test_a_plugins_option_that_is_set_just_before_is_told_and_not_stored_over(
    client, owner, monkeypatch
):
    at = "/plugins/notify_email/"
    plugins.enable("notify_email", MAIL)
    form = forms.on(client.get(at).text, of="plugin-options")
    theirs = MAIL | {"host": "post.pell.test"}
    first(
        monkeypatch,
        plugin_setting,
        "turn_on",
        lambda act: act("notify_email", theirs, by=owner),
    )
    answer = client.post(at, form.sends | {"v:host": "mail.mine.test"})
    assert answer.status_code == 422
    assert "It stands at “post.pell.test” now." in answer.text
    assert PluginState.objects.get().options["host"] == "post.pell.test"


def test_a_plugin_two_turn_on_at_once_for_the_first_time_is_told(
    client, owner, monkeypatch
):
    at = "/plugins/notify_email/"
    form = forms.on(client.get(at).text, of="plugin-options")
    first(
        monkeypatch,
        plugin_setting,
        "turn_on",
        lambda act: act("notify_email", MAIL, by=owner),
    )
    answer = client.post(
        at, form.sends | {"v:host": "mail.mine.test", "v:sender": "crew@pell.test"}
    )
    assert answer.status_code == 422
    assert PluginState.objects.get().options["host"] == MAIL["host"]


def test_her_number_that_is_set_just_before_is_told_and_not_stored_over(
    client, owner, monkeypatch
):
    boat = shop.boat(Place.objects.get(), registration="ME 1", hull_number="ABC")
    at, to = f"/boats/{boat.key}/", f"/boats/{boat.key}/marks/"
    sent = forms.on(client.get(at).text, action=to).sends
    theirs = {"registration": "ME 2", "hull_number": "ABC", "by": owner}
    first(monkeypatch, boat_marks, "change", lambda act: act(boat, **theirs))
    assert client.post(to, sent | {"registration": "ME 3"}).url == at
    page = client.get(at).text
    assert "The registration: it stands at “ME 2” now." in page
    boat.refresh_from_db()
    assert boat.registration == "ME 2"
