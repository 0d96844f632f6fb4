"""The crew's day without signal: it opens, what is told waits with its time, and is sent once there is signal again."""

from datetime import UTC, datetime, timedelta

import pytest
from django.contrib.sessions.models import Session
from playwright.sync_api import Page, expect

from dispatch.records.models import HistoryEntry, Stage
from tests.actions import posted
from tests.browser import looks
from tests.web import people

TEN_PAST = datetime(2027, 5, 24, 15, 10, tzinfo=UTC)  # 11:10 at the boat
KEPT = "() => navigator.serviceWorker.ready.then(() => caches.keys()).then((all) => all.length)"


@pytest.fixture
def port(transactional_db):
    job = posted.sprayed()
    posted.warm(job.boat.place)
    done = Stage.objects.filter(job=job, key="mask")
    done.update(state="done", ended_at=posted.at("10:00"))
    stage = job.stages.get(key="port")
    posted.visit(posted.van_day(people.crew().person), stage, "11:00", 90)
    posted.judged(stage)
    posted.stand("11:10")
    return stage


@pytest.fixture
def curlew(port):
    """Another boat of the same day, whose turn is later."""
    stage = posted.beside(port.job).stages.get(key="port")
    posted.visit(port.visit.van_day, stage, "14:00", 90)
    return stage


@pytest.fixture
def mine(phone: Page, sign_in, port, complaints) -> Page:
    """The phone of somebody who rides, its route kept; then the signal goes."""
    sign_in(phone, port.visit.van_day.team.get().account)
    phone.clock.set_fixed_time(TEN_PAST)
    phone.goto("/route/")
    phone.wait_for_function(KEPT.replace("length", "length > 0"))
    phone.reload()
    phone.context.set_offline(True)
    posted.stand("11:30")
    yield phone
    # The browser itself tells of every request that found no signal.
    complaints[:] = [
        one for one in complaints if "ERR_INTERNET_DISCONNECTED" not in one
    ]


def test_the_day_opens_without_signal_and_says_so(mine):
    mine.reload()
    expect(mine.locator(".knot.next .big")).to_have_text("GO now")
    expect(mine.locator("#heard")).to_contain_text(
        "No signal: this page is as of Mon 11:10"
    )
    assert looks.wider_than_the_screen(mine) == 0


def test_what_is_told_waits_with_its_time_and_is_sent_once(mine, port):
    knot = mine.locator(".knot.next")
    knot.get_by_role("button", name="Start Spray port").tap()
    expect(mine.locator("#heard")).to_contain_text("To be sent: Start Spray port")
    expect(mine.locator("#heard")).to_contain_text("11:10")
    port.refresh_from_db()
    assert port.state == "to-do"
    mine.reload()
    expect(mine.locator("#heard")).to_contain_text("To be sent: Start Spray port")
    mine.context.set_offline(False)
    expect(mine.locator(".going")).to_have_text("Started Mon 11:10", timeout=40_000)
    expect(mine.locator("#heard")).to_be_hidden()
    assert HistoryEntry.objects.filter(verb="start-stage").count() == 1


def test_a_phone_whose_clock_is_wrong_is_put_right(mine, port):
    """47 minutes fast since before its page came in: told at 11:20, when it shows 12:07."""
    mine.context.set_offline(False)
    mine.evaluate("() => localStorage.clear()")
    mine.clock.set_fixed_time(TEN_PAST + timedelta(minutes=47))
    posted.stand("11:10")
    mine.reload()
    mine.context.set_offline(True)
    mine.clock.set_fixed_time(TEN_PAST + timedelta(minutes=57))
    mine.locator(".knot.next").get_by_role("button", name="Start Spray port").tap()
    expect(mine.locator("#heard")).to_contain_text("Second Wind, 11:20")
    posted.stand("11:40")
    mine.context.set_offline(False)
    expect(mine.locator(".going")).to_have_text("Started Mon 11:20", timeout=40_000)


def test_a_snag_whose_answer_was_lost_is_kept_once(mine, port):
    """The network takes the report in and drops the answer on its way back."""
    mine.context.set_offline(False)
    mine.reload()
    lost = []

    def drop(route):
        if lost:
            route.continue_()
        else:
            lost.append(route.fetch(max_redirects=0).status)
            route.abort("internetdisconnected")

    mine.route("**/tell/", drop)
    words = mine.locator(".knot.next textarea[name=words]")
    words.evaluate("one => { one.closest('details').open = true; }")
    words.fill("Runs at the bow")
    words.evaluate("one => one.form.requestSubmit(one.form.querySelector('button'))")
    expect(mine.locator("#heard")).to_contain_text("To be sent")
    mine.evaluate("() => window.dispatchEvent(new Event('online'))")
    expect(mine.locator("#heard")).to_be_hidden()
    assert lost == [302]
    assert HistoryEntry.objects.filter(verb="tell-snag").count() == 1


def test_what_was_told_meanwhile_by_another_is_not_told_twice(mine, port):
    mine.locator(".knot.next").get_by_role("button", name="Start Spray port").tap()
    expect(mine.locator("#heard")).to_contain_text("To be sent")
    Stage.objects.filter(pk=port.pk).update(
        state="under-way", started_at=posted.at("11:00")
    )
    mine.context.set_offline(False)
    expect(mine.locator("#heard")).to_contain_text(
        "Not taken: Start Spray port", timeout=40_000
    )
    mine.get_by_role("button", name="I have read what was not taken").tap()
    expect(mine.locator("#heard")).to_be_hidden()


def test_words_that_are_not_taken_are_still_to_be_read(mine, port):
    words = mine.locator(".knot.next textarea[name=words]")
    words.evaluate("one => { one.closest('details').open = true; }")
    words.fill("Runs at the bow")
    words.evaluate("one => one.form.requestSubmit(one.form.querySelector('button'))")
    expect(mine.locator("#heard")).to_contain_text("To be sent")
    port.visit.van_day.team.clear()
    mine.context.set_offline(False)
    expect(mine.locator("#heard")).to_contain_text(
        "You wrote: “Runs at the bow”", timeout=40_000
    )
    assert not HistoryEntry.objects.filter(verb="tell-snag").exists()


def test_what_waits_outlasts_a_sign_in_that_has_run_out(mine, port, sign_in):
    mine.locator(".knot.next").get_by_role("button", name="Start Spray port").tap()
    expect(mine.locator("#heard")).to_contain_text("To be sent: Start Spray port")
    Session.objects.all().delete()
    mine.context.set_offline(False)
    expect(mine.locator("#heard")).to_contain_text("You are signed out", timeout=40_000)
    expect(mine.locator("#heard")).to_contain_text("To be sent: Start Spray port")
    sign_in(mine, port.visit.van_day.team.get().account)
    mine.goto("/route/")
    expect(mine.locator(".going")).to_have_text("Started Mon 11:10", timeout=40_000)
    assert HistoryEntry.objects.filter(verb="start-stage").count() == 1


def test_whoever_signs_out_leaves_nothing_on_the_phone(mine):
    mine.context.set_offline(False)
    mine.get_by_role("button", name="Sign out").tap()
    expect(mine.get_by_role("heading", level=1)).to_have_text("Sign in")
    assert mine.evaluate("() => caches.keys()") == []


@pytest.mark.parametrize("meant", [True, False])
def test_a_boat_the_route_is_not_at_is_asked_about_when_it_is_sent(curlew, mine, meant):
    mine.get_by_role("button", name="Start Spray port, two coats, Curlew").tap()
    heard = mine.locator("#heard")
    expect(heard).to_contain_text("To be sent: Start Spray port, two coats, Curlew")
    mine.context.set_offline(False)
    expect(heard).to_contain_text("Your route is at Second Wind", timeout=40_000)
    curlew.refresh_from_db()
    assert curlew.state == "to-do"
    assert looks.wider_than_the_screen(mine) == 0
    said = "Yes: Start Spray port" if meant else "No, do not send it"
    heard.get_by_role("button", name=said).tap()
    expect(heard).to_be_hidden()
    curlew.refresh_from_db()
    assert curlew.started_at == (posted.at("11:10") if meant else None)
