"""The owner's settings: read all, change one or several, be told what is wrong, go back to the default."""

import pytest

from dispatch.actions import book, rates, setting_subjects, settings, sweeping
from dispatch.records.models import (
    DueWork,
    HistoryEntry,
    JobKind,
    Outfit,
    Setting,
    Visit,
)
from tests.actions import posted, shop
from tests.web import forms, people

pytestmark = pytest.mark.django_db
SPRAY = "/settings/spray/"
ADDRESSES = ("/settings/", SPRAY, "/settings/labour/", "/settings/outfit/")


@pytest.fixture
def place():
    shop.outfit()
    shop.catalogue()
    return shop.driveway()


@pytest.fixture
def owner(client):
    account = people.owner()
    client.force_login(account)
    return account


def sent(**values):
    """As a browser sends fields of the spray limits: what was shown, and what stands in them now."""
    shown = {"wind_max_ms": "10", "gust_max_ms": "14", "air_min_c": "55"}
    given = {}
    for name, value in values.items():
        given[f"was:spray.{name}"] = shown[name]
        given[f"v:spray.{name}"] = value
    return given


def particulars():
    """As a browser sends the outfit's own page with nothing changed."""
    return {
        name: getattr(Outfit.objects.get(), name)
        for name in ("name", "town", "time_zone", "units")
    }


def value(name):
    return next(rate.value for rate in rates.listed() if rate.name == name)


def test_every_setting_is_on_the_first_page_or_a_link_away(client, place, owner):
    told = client.get("/settings/").text
    assert f"{len(rates.listed())} rates and limits" in told
    pages = {
        subject.key: client.get(f"/settings/{subject.key}/").text
        for subject in setting_subjects.SUBJECTS
    }
    for rate in rates.listed():
        key = setting_subjects.of(rate.name).key
        assert f'name="v:{rate.name}"' in pages[key]
        assert f'href="/settings/{key}/"' in told


@pytest.mark.parametrize("make", [people.crew, people.nobodys])
@pytest.mark.parametrize("address", ADDRESSES)
def test_nobody_else_sees_or_sets_them(client, place, make, address):
    client.force_login(make())
    assert client.get(address).status_code == 403
    answer = client.post(address, sent(wind_max_ms="9"))
    assert answer.status_code in (403, 405)
    assert not Setting.objects.exists()


@pytest.mark.parametrize("address", ADDRESSES)
def test_a_stranger_is_asked_to_sign_in(client, place, address):
    assert client.get(address).url == f"/sign-in/?next={address}"
    assert client.post(address, sent(wind_max_ms="9")).status_code in (302, 405)
    assert not Setting.objects.exists()


def test_a_line_tells_unit_default_range_and_where_it_comes_from(client, place, owner):
    told = " ".join(client.get(SPRAY).text.split())
    assert 'value="55"' in told
    assert "Default 55 °F.</span> From -76 to 140 °F." in told
    assert "Common practice of the trade." in told
    assert "Visits already posted stay" in told


def test_several_are_set_at_once_with_the_reason(client, place, owner):
    given = sent(wind_max_ms="9", gust_max_ms="12", air_min_c="55")
    answer = client.post(SPRAY, given | {"why": "exposed corner"}, follow=True)
    assert "2 numbers set. Every stage still to be done is judged again" in answer.text
    assert value("spray.gust_max_ms") == pytest.approx(12 * 0.44704)
    entries = HistoryEntry.objects.filter(verb="set")
    assert {e.sentence for e in entries} == {
        "Spray: “Steady wind at most” now 9 mph (was 10 mph).",
        "Spray: “Gust at most” now 12 mph (was 14 mph).",
    }
    assert {(e.actor, e.why) for e in entries} == {("orla", "exposed corner")}
    assert "Reason: exposed corner" in answer.text
    assert DueWork.objects.filter(verb="judge-book", done_at=None).count() == 1


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ("brisk", "Enter a number. From 0 to 134 mph; the default is 10 mph."),
        ("", "Enter a number. From 0 to 134 mph; the default is 10 mph."),
        ("-1", "Enter a number. From 0 to 134 mph; the default is 10 mph."),
        ("140", "Enter a number. From 0 to 134 mph; the default is 10 mph."),
        ("nan", "Enter a number. From 0 to 134 mph; the default is 10 mph."),
        ("15", "This may not be above “Gust at most”, 14 mph. Change both together."),
    ],
)
def test_a_bad_value_is_told_beside_its_field_and_nothing_is_written(
    client, place, owner, wrong, said
):
    given = sent(wind_max_ms=wrong, air_min_c="60") | {"why": "kept"}
    answer = client.post(SPRAY, given)
    assert answer.status_code == 422
    assert f'id="spray.wind_max_ms-fault">{said}</p>' in answer.text
    assert answer.text.count('class="fault"') == 1
    assert f'name="v:spray.wind_max_ms" value="{wrong}"' in answer.text
    assert 'name="v:spray.air_min_c" value="60"' in answer.text
    assert ">kept</textarea>" in answer.text
    assert not Setting.objects.exists()
    assert not HistoryEntry.objects.filter(verb="set").exists()


def test_a_pair_moved_together_is_taken(client, place, owner):
    client.post(SPRAY, sent(wind_max_ms="15", gust_max_ms="18"))
    assert value("spray.wind_max_ms") == pytest.approx(15 * 0.44704)


def test_back_to_the_default(client, place, owner):
    settings.change("spray.wind_max_ms", 4.0233, by=owner)
    assert "Back to the default, 10 mph" in client.get(SPRAY).text
    assert "1 of them differs from the default" in client.get("/settings/").text
    client.post(
        SPRAY,
        {
            "was:spray.wind_max_ms": "9",
            "v:spray.wind_max_ms": "9",
            "back:spray.wind_max_ms": "on",
        },
    )
    assert not Setting.objects.exists()
    assert "All stand at their defaults" in client.get("/settings/").text


def test_what_somebody_else_set_meanwhile_is_not_written_over(client, place, owner):
    settings.change("spray.wind_max_ms", 4.0233, by=owner)
    answer = client.post(SPRAY, sent(wind_max_ms="8"))
    assert answer.status_code == 422
    assert "It stands at 9 mph now" in answer.text
    assert value("spray.wind_max_ms") == 4.0233


def test_nothing_different_is_said_and_leaves_nothing(client, place, owner):
    answer = client.post(SPRAY, sent(wind_max_ms="10"), follow=True)
    assert "Nothing was different" in answer.text
    assert not DueWork.objects.exists()


def test_no_limit_is_an_empty_field(client, place, owner):
    wash = "/settings/wash/"
    given = {"was:wash.air_max_c": "", "v:wash.air_max_c": "95"}
    client.post(wash, given)
    assert value("wash.air_max_c") == pytest.approx(35)
    given = {"was:wash.air_max_c": "95", "v:wash.air_max_c": ""}
    client.post(wash, given)
    assert value("wash.air_max_c") == 1e6


def test_metric_outfits_read_and_enter_metric(client, place, owner):
    client.post(
        "/settings/outfit/", particulars() | {"units": "metric", "why": "moved"}
    )
    told = client.get(SPRAY).text
    assert 'name="was:spray.wind_max_ms" value="4.47"' in told
    given = {"was:spray.wind_max_ms": "4.47", "v:spray.wind_max_ms": "4"}
    client.post(SPRAY, given)
    assert value("spray.wind_max_ms") == 4
    assert HistoryEntry.objects.get(subject="outfit").why == "moved"


@pytest.mark.parametrize(
    ("field", "wrong", "said"),
    [
        ("name", " ", "Fill this in"),
        ("time_zone", "Boston", "There is no time zone Boston"),
        ("units", "cubits", "There is no cubits to choose"),
        ("town", "x" * 81, "Keep it to 80 characters"),
    ],
)
def test_particulars_that_will_not_do_are_told(
    client, place, owner, field, wrong, said
):
    before = Outfit.objects.values().get()
    answer = client.post(
        "/settings/outfit/", particulars() | {"town": "Pell Harbor", field: wrong}
    )
    assert answer.status_code == 422
    assert said in answer.text
    assert Outfit.objects.values().get() == before


def test_a_change_of_labour_leaves_what_is_posted_and_tells_of_the_rest(
    client, place, owner
):
    kind = JobKind.objects.get(key="wash")
    job = book.take_job(key="j1", boat=shop.boat(place), kind=kind)
    stage = job.stages.get()
    visit = posted.visit(posted.van_day(posted.person("teague")), stage, "09:00")
    sweeping.sweep()
    given = {"was:shape.centre-console": "1", "v:shape.centre-console": "2"}
    answer = client.post("/settings/shape/", given, follow=True)
    assert "1 stage or job waits to be judged or reckoned again" in answer.text
    sweeping.sweep()
    assert "to be judged or reckoned again" not in client.get("/settings/").text
    before = visit.end
    assert Visit.objects.get().end == before
    assert job.stages.get().minutes == stage.minutes


def test_a_job_that_could_not_be_reckoned_again_is_told_with_its_reason(
    client, place, owner
):
    kind = JobKind.objects.get(key="wash")
    book.take_job(key="j1", boat=shop.boat(place), kind=kind)
    settings.change_all(
        {"day.longest_visit_minutes": 60, "shape.centre-console": 9}, by=owner
    )
    sweeping.sweep()
    told = client.get("/settings/shape/").text
    assert "Job j1 keeps its old minutes." in told
    assert "more than the 60 of a day" in told
    settings.change_all({"shape.centre-console": None}, by=owner)
    Setting.objects.all().delete()
    sweeping.sweep()
    assert "keeps its old minutes" not in client.get("/settings/shape/").text


def test_no_such_subject_is_no_page(client, place, owner):
    assert client.get("/settings/luck/").status_code == 404


def test_no_page_holds_a_style_or_a_script_of_its_own(client, place, owner):
    for address in ADDRESSES:
        told = client.get(address).text
        assert "style=" not in told
        assert "<script" not in told.replace('<script src="/static/', "")


def test_a_time_of_day_is_entered_by_the_clock(client, place, owner):
    customers = "/settings/customers/"
    assert "From 15:00 to 21:00." in client.get(customers).text
    name = "customers.until_clock"
    wrong = client.post(customers, {f"was:{name}": "20:30", f"v:{name}": "half past"})
    assert "Enter a time, as 08:00. From 15:00 to 21:00" in wrong.text
    client.post(customers, {f"was:{name}": "20:30", f"v:{name}": "19:45"})
    assert value(name) == 19 * 60 + 45
    sentence = HistoryEntry.objects.get(verb="set").sentence
    assert sentence == "Customers: “Messages until” now 19:45 (was 20:30)."


def test_what_saving_does_is_told_of_what_was_changed(client, place, owner):
    product = "/settings/coverage/"
    told = client.get(product).text
    assert "New jobs are reckoned" in told
    assert "Load lists and the board" in told
    name = "coverage.breeze_waste"
    given = {f"was:{name}": "8", f"v:{name}": "10"}
    answer = client.post(product, given, follow=True)
    assert "1 number set. Load lists and the board&#x27;s stores" in answer.text
    assert value(name) == pytest.approx(0.1)
    assert not DueWork.objects.exists()


def test_a_limit_asks_for_a_time_by_the_clock_and_for_a_minus_where_it_may_have_one(
    client, place, owner
):
    spray = forms.on(client.get(SPRAY).text, of="lines").fields
    assert spray["v:spray.air_min_c"]["inputmode"] == "text"
    assert spray["v:spray.wind_max_ms"]["inputmode"] == "decimal"
    told = forms.on(client.get("/settings/customers/").text, of="lines").fields
    assert told["v:customers.eve_clock"]["type"] == "time"


def test_the_table_of_the_sky_has_the_unit_beside_each_number_for_a_phone(
    client, place, owner
):
    told = client.get("/settings/").text
    assert '<span class="cell-head">Above dew point</span>' in told
    assert '≥ 5<span class="cell-unit"> °F</span>' in told
    assert 'any<span class="cell-unit">' not in told
