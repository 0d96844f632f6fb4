"""The crew's day: who may open it, what stands on it, and its two buttons."""

from datetime import date

import pytest

from dispatch.records.models import (
    Can,
    Forecast,
    ForecastHour,
    HistoryEntry,
    Hold,
    Outfit,
    Sheet,
    Stage,
    Visit,
)
from tests.actions import posted
from tests.web import people

pytestmark = pytest.mark.django_db


@pytest.fixture
def rook():
    return people.crew()


@pytest.fixture
def port(rook):
    job = posted.sprayed(note="Launch Thursday.")
    posted.warm(job.boat.place)
    stage = job.stages.get(key="port")
    posted.judged(stage)
    Stage.objects.filter(job=job, key="mask").update(
        state="done", ended_at=posted.at("10:00")
    )
    posted.visit(posted.van_day(rook.person), stage, "11:00", 90)
    posted.stand("11:10")
    return stage


def report(client, stage, **given):
    return client.post(f"/route/stages/{stage.pk}/", given)


def test_who_rides_sees_the_day_with_its_word(client, rook, port):
    client.force_login(rook)
    told = client.get("/route/").text
    for words in (
        "Monday 24 May",
        "Second Wind",
        "11:00 to 12:30",
        "GO now",
        "Coat 1, port",
        "Lanternglass One",
        # 0.124 oz a square foot [assumption], which is 1.554 mil.
        "each coat about 1.6",
        "Cartridge mask and gloves.",
        "min in shade, levelling included",
        "Launch Thursday.",
        "does not say that the work is safe",
    ):
        assert words in told


def test_times_are_the_places_and_not_utc(client, rook, port):
    client.force_login(rook)
    told = client.get("/route/").text
    assert "Load at Shop from 07:00, drive off 07:25" in told
    assert "15:00" not in told


def test_unknown_is_never_go(client, rook, port):
    port.judged.all().delete()
    client.force_login(rook)
    told = client.get("/route/").text
    assert "WAIT" in told
    assert "GO now" not in told


def test_another_day_may_be_looked_at_and_says_when_the_next_is(client, rook, port):
    client.force_login(rook)
    told = client.get("/route/?day=2027-05-23").text
    assert "No van for you this day" in told
    assert "Monday 24 May" in told


@pytest.mark.parametrize("day", ["soon", "0001-01-01", "9999-12-31", "2027-02-30"])
def test_a_day_that_is_none_is_refused_in_words(client, rook, port, day):
    client.force_login(rook)
    answer = client.get("/route/", {"day": day})
    assert answer.status_code == 400
    assert "Write it as 2027-05-24" in answer.text


def test_before_the_day_there_is_nothing_to_report(client, rook, port):
    posted.stand("19:00", posted.MONDAY.replace(day=23))
    client.force_login(rook)
    told = client.get("/route/?day=2027-05-24").text
    assert "Start and Done come on the day" in told
    assert 'value="start"' not in told


def test_start_and_done_are_kept_as_of_now_or_the_time_entered(client, rook, port):
    client.force_login(rook)
    answer = report(client, port, do="start")
    assert answer.url == f"/route/?day=2027-05-24#visit-{port.visit.pk}"
    posted.stand("12:50")
    report(client, port, do="done", at="12:35", amount="14.5")
    port.refresh_from_db()
    assert (port.started_at, port.ended_at) == (posted.at("11:10"), posted.at("12:35"))
    assert "Done Mon 12:35" in client.get("/route/").text
    assert Hold.objects.filter(planned=False).count() == 2


def test_a_metric_outfit_enters_millilitres(client, rook, port):
    Outfit.objects.update(units="metric")
    client.force_login(rook)
    report(client, port, do="done", amount="400")
    said = HistoryEntry.objects.get(verb="use-product").sentence
    assert "took 400 ml of Lanternglass One" in said


@pytest.mark.parametrize(
    ("given", "sentence"),
    [
        ({"at": "11:11"}, "has not come yet"),
        ({"at": "noon"}, "noon is not a time"),
        ({"amount": "lots"}, "lots is not an amount"),
    ],
)
def test_what_cannot_be_right_comes_back_with_a_sentence(
    client, rook, port, given, sentence
):
    client.force_login(rook)
    answer = report(client, port, do="done", **given)
    assert answer.status_code == 400
    assert sentence in answer.text
    port.refresh_from_db()
    assert port.state == "to-do"


def test_a_report_of_neither_kind_is_refused(client, rook, port):
    client.force_login(rook)
    assert report(client, port, do="dance").status_code == 400


def test_reading_reports_nothing(client, rook, port):
    client.force_login(rook)
    assert client.get(f"/route/stages/{port.pk}/").status_code == 405


def test_work_of_no_posted_week_is_not_for_them_to_report(client, rook, port):
    port.visit.delete()
    client.force_login(rook)
    assert report(client, port, do="start").status_code == 403
    assert report(client, Stage(pk=0), do="start").status_code == 404


@pytest.fixture
def moved(rook, port):
    """The port side was moved to Tuesday and to somebody else, after a phone lost its signal."""
    posted.was_sent(port.visit.van_day.plan, (rook.person,), (port, "11:00", "12:30"))
    port.visit.delete()
    other = posted.van_day(posted.person("dov"), day=date(2027, 5, 25))
    posted.visit(other, port, "09:00", 90)
    posted.stand("15:00")
    return Stage.objects.get(pk=port.pk)


def test_what_was_told_without_signal_counts_on_the_day_of_its_page(
    client, rook, moved
):
    client.force_login(rook)
    given = {"do": "done", "at": "12:30", "on": "2027-05-24", "told_as": "1-a"}
    for _ in range(2):
        answer = report(client, moved, **given)
        assert answer.url.startswith("/route/?day=2027-05-24#visit-")
    done = Stage.objects.get(pk=moved.pk)
    assert (done.state, done.ended_at) == ("done", posted.at("12:30"))
    assert done.visit.van_day.on == posted.MONDAY


def test_a_report_for_a_day_that_is_none_is_refused(client, rook, port):
    client.force_login(rook)
    told = report(client, port, do="done", on="noon")
    assert told.status_code == 400
    assert "That is not a day we can show" in told.text


def test_who_does_not_ride_there_sees_none_of_it_and_reports_nothing(client, port):
    client.force_login(posted.person("winnie").account)
    assert "Second Wind" not in client.get("/route/?day=2027-05-24").text
    answer = report(client, port, do="start")
    assert answer.status_code == 403
    assert "van Knot that day" in answer.text


def test_an_owner_who_works_may_report_for_others(client, port):
    client.force_login(posted.person("orla", role="owner").account)
    report(client, port, do="start")
    port.refresh_from_db()
    assert port.state == "under-way"


def test_an_owner_who_is_nobody_of_the_crew_is_told_so(client, port):
    client.force_login(people.owner())
    assert client.get("/route/").status_code == 403


def test_who_has_left_opens_nothing(client, port):
    client.force_login(people.nobodys())
    assert client.get("/route/").status_code == 403
    assert report(client, port, do="start").status_code == 403


def test_a_stranger_is_asked_to_sign_in_and_so_is_who_has_a_boat(client, port):
    """Whoever has a boat has a link, and no account."""
    assert client.get("/route/").url.startswith("/sign-in/")
    assert report(client, port, do="start").url.startswith("/sign-in/")
    assert Visit.objects.get().stage.state == "to-do"


def test_a_visit_the_sky_forbids_says_so_with_its_numbers_and_stays(client, rook, port):
    port.judged.all().delete()
    posted.judged(port, ("10:00", "13:00", "gust 21 mph, limit 14 mph"))
    client.force_login(rook)
    told = client.get("/route/").text
    assert "The sky no longer allows this visit: Gust 21 mph, limit 14 mph." in told
    assert "It has not been moved" in told
    assert "11:00 to 12:30" in told


def test_a_visit_whose_sky_nobody_judged_says_it_is_not_known(client, rook, port):
    port.judged.all().delete()
    client.force_login(rook)
    assert "The sky is not known for this visit: Nobody has judged" in (
        client.get("/route/").text
    )


def test_the_first_coat_is_reported_by_itself_and_the_wait_counts_from_it(
    client, rook, port
):
    client.force_login(rook)
    report(client, port, do="start")
    # One that has grown old would leave less time, on the safe side.
    Forecast.objects.update(issued_at=posted.stand("11:40"))
    page = client.get("/route/").text
    assert "First coat on" in page
    # At 70 F throughout, 6 hours of the sheet are six by the clock; a little less by the warmer end.
    assert "Second coat by Mon 16:" in page
    report(client, port, do="coat", amount="7")
    page = client.get("/route/").text
    assert "First coat on: " not in page
    assert "Second coat by Mon 17:" in page
    assert "used by the second coat" in page
    posted.stand("12:10")
    report(client, port, do="done", amount="6.5")
    used = port.laid.values_list("coat", "used_ml")
    assert [(coat, round(ml / 29.5735, 1)) for coat, ml in used] == [(1, 7), (2, 6.5)]


def test_a_second_coat_the_cans_do_not_do_for_is_a_stop_in_place_of_the_go(
    client, rook, port
):
    """12 oz in store, 10 taken by the first coat: 2 are there, and 10 are wanted again."""
    client.force_login(rook)
    can = Can.objects.create(sheet=Sheet.objects.get(), left_ml=12 * 29.5735)
    report(client, port, do="start")
    posted.stand("11:40")
    assert "STOP" not in client.get("/route/").text
    report(client, port, do="coat", amount="10")
    page = client.get("/route/").text.replace("\xa0", " ")
    assert "STOP" in page
    assert "Stop before coat 2: it takes about 10.0 oz" in page
    assert "2.0 oz is there: " in page
    assert "GO now" not in page
    Can.objects.create(sheet=can.sheet, left_ml=1000)
    page = client.get("/route/").text
    assert "STOP" not in page
    assert "GO now" in page


@pytest.mark.parametrize(
    ("before", "says"),
    [("", "Report its start first"), ("start coat", "reported already")],
)
def test_a_first_coat_out_of_turn_is_refused_in_words(client, rook, port, before, says):
    client.force_login(rook)
    for act in before.split():
        report(client, port, do=act)
    answer = report(client, port, do="coat")
    assert (answer.status_code, says in answer.text) == (400, True)
    assert port.laid.count() == before.count("coat")


def test_a_visit_of_one_coat_has_no_first(client, rook, port):
    Stage.objects.filter(pk=port.pk).update(flashes=0)
    client.force_login(rook)
    report(client, port, do="start")
    assert "First coat on" not in client.get("/route/").text
    answer = report(client, port, do="coat")
    assert "one coat only" in answer.text


def test_why_shows_the_numbers_their_limits_and_where_those_come_from(
    client, rook, port
):
    client.force_login(rook)
    told = client.get("/route/").text.replace("\N{NO-BREAK SPACE}", " ")
    assert "Why? The numbers and their limits" in told
    assert "<strong>Gusts</strong> 4 mph; at most 14 mph: <em>kept</em>" in told
    assert "The sheet of Lanternglass One." in told
    ForecastHour.objects.update(gust_ms=None)
    told = client.get("/route/").text
    assert "<strong>Gusts</strong> not known; " in told


def test_a_script_that_is_signed_out_is_told_and_nothing_is_taken(client, rook, port):
    told = client.post(
        f"/route/stages/{port.pk}/",
        {"do": "start"},
        headers={"X-Requested-With": "fetch"},
    )
    assert told.status_code == 401
    assert Stage.objects.get(pk=port.pk).state == "to-do"
