"""The owner's week: who may see it, building and posting through the page, and what it shows."""

from datetime import timedelta
from threading import Event
from time import monotonic

import pytest

from dispatch.actions import plugins, sweeping
from dispatch.hooks import guard, registry
from dispatch.records.models import Account, Outfit, PluginState, Visit, Week, WeekPlan
from tests.actions import plans, shop
from tests.hooks.strangers import stranger
from tests.web import people

pytestmark = pytest.mark.django_db
FRIDAY = (28, "07:30", "11:30", [("j1.mask", "07:40", "08:35")])
BUILD = "/week/2027-05-24/build/"


@pytest.fixture
def place():
    return plans.outfit()


@pytest.fixture
def owner(client):
    account = people.owner()
    client.force_login(account)
    return account


@pytest.fixture
def wash(place):
    """Take in one job that a second of search places."""
    return plans.wash(place)


def test_the_owner_sees_boats_sky_and_buttons(client, place, owner):
    plans.coat(place)
    told = client.get("/week/").text
    assert "Week of 24 May" in told
    assert "Nothing is planned in this week yet" in told
    assert "Second Wind" in told
    assert "forecast 1 h old" in told
    assert "Build the week" in told
    assert "Post the week" not in told


@pytest.mark.parametrize("make", [people.crew, people.nobodys])
@pytest.mark.parametrize(
    "address", ["/week/", "/week/2027-05-24/", "/week/why/j1.mask/"]
)
def test_nobody_else_sees_it(client, place, make, address):
    client.force_login(make())
    answer = client.get(address)
    assert answer.status_code == 403
    assert "Only the owner may do this" in answer.text


@pytest.mark.parametrize(
    "address", ["/week/", "/week/2027-05-24/", "/week/why/j1.mask/"]
)
def test_a_stranger_is_asked_to_sign_in(client, place, address):
    assert client.get(address).url == f"/sign-in/?next={address}"


@pytest.mark.parametrize("make", [people.crew, people.nobodys])
def test_nobody_else_builds_stops_or_posts(client, place, make):
    plans.coat(place)
    plan = plans.draft([FRIDAY])
    client.force_login(make())
    for address in (
        BUILD,
        f"/week/plan/{plan.pk}/stop/",
        f"/week/plan/{plan.pk}/post/",
    ):
        assert client.post(address).status_code == 403
    assert WeekPlan.objects.count() == 1
    assert not Visit.objects.exists()


def test_a_week_is_built_and_posted_through_the_page(client, wash, owner):
    assert client.post(BUILD).url == "/week/2027-05-24/"
    waiting = client.get("/week/").text
    assert "Waiting for a worker" in waiting
    assert "Build the week</button>" not in waiting
    WeekPlan.objects.update(seconds=1)
    sweeping.sweep()
    plan = WeekPlan.objects.get()
    done = client.get(f"/week/plan/{plan.pk}/progress/")
    assert done["HX-Redirect"] == "/week/2027-05-24/"
    assert "nobody has been told" in client.get("/week/").text
    client.post(f"/week/plan/{plan.pk}/post/")
    assert Visit.objects.exists()
    told = client.get("/week/").text
    assert "The week is posted" in told
    assert "this is what people are told" in told


def test_progress_tells_phase_cost_and_steps(client, place, owner):
    client.post(BUILD)
    plan = WeekPlan.objects.get()
    line = {"phase": "search", "cost": 812345, "steps": 240}
    WeekPlan.objects.update(state="building", progress=line)
    told = client.get(f"/week/plan/{plan.pk}/progress/").text
    assert "Looking for a better week" in told
    assert "$8,123 after 240 steps" in told


@pytest.mark.parametrize(
    ("line", "says"),
    [
        (
            {"cost": 123400, "bound": 100000},
            "no week costs less than $1,000, so a better one could save $234 at most.",
        ),
        ({"cost": 123400, "bound": 123400}, "No week costs less: this is proven."),
        ({"cost": 123400, "bound": None}, ""),
        ({"cost": None, "bound": 100000}, ""),
    ],
)
def test_progress_tells_how_much_a_better_week_could_save(
    client, place, owner, line, says
):
    client.post(BUILD)
    plan = WeekPlan.objects.get()
    row = {"phase": "search", "steps": 3} | line
    WeekPlan.objects.update(state="building", progress=row)
    told = client.get(f"/week/plan/{plan.pk}/progress/").text
    assert says in told
    assert ("proven" in told.lower()) == bool(says)


def test_stop_is_passed_on_to_the_planner(client, place, owner):
    client.post(BUILD)
    plan = WeekPlan.objects.get()
    client.post(f"/week/plan/{plan.pk}/stop/")
    plan.refresh_from_db()
    assert plan.stop_asked
    assert "stopping with it" in client.get("/week/").text


def test_a_second_build_is_refused_in_a_sentence(client, place, owner):
    client.post(BUILD)
    client.post(BUILD)
    assert "being built already" in client.get("/week/").text
    assert WeekPlan.objects.count() == 1


def test_a_stale_draft_is_refused_and_nothing_is_lost(client, place, owner):
    plans.coat(place)
    plan = plans.draft([FRIDAY])
    Week.objects.update(version=3)
    client.post(f"/week/plan/{plan.pk}/post/")
    assert "was posted since this draft was built" in client.get("/week/").text
    assert not Visit.objects.exists()


def test_a_failed_build_says_why(client, place, owner):
    client.post(BUILD)
    sweeping.sweep()
    told = client.get("/week/").text
    assert "The last build gave no week: There is no work to plan." in told


def test_a_newer_draft_is_shown_and_what_stands_is_a_link_away(client, place, owner):
    plans.coat(place)
    plans.draft([], state="standing", posted_at=shop.NOW)
    later = shop.NOW + timedelta(minutes=5)
    plans.draft([FRIDAY], asked_at=later, built_at=later)
    told = client.get("/week/").text
    assert "nobody has been told" in told
    assert "see what stands now" in told
    standing = client.get("/week/?show=standing").text
    assert "this is what people are told" in standing
    assert "See the newer draft" in standing
    assert 'href="?show=standing&amp;only=wet"' in standing
    assert 'href="?only=wet"' not in standing
    assert 'href="?only=wet"' in client.get("/week/").text


def test_the_board_is_told_in_words_too(client, place, owner):
    plans.coat(place)
    plans.draft([FRIDAY])
    told = client.get("/week/").text
    assert "Fri 07:40-08:35: Mask and drape, Rook Ferrante and Teague Amsel" in told
    assert 'href="/week/why/j1.mask/?week=2027-05-24"' in told


def test_left_out_jobs_stand_with_their_reason(client, place, owner):
    plans.coat(place)
    why = {"stage": "j1.prep", "code": "no-room", "why": "No place was found."}
    wait = {"stage": "j1.mask", "code": "waits-for", "why": "It comes after j1.prep."}
    plans.draft([], [why, wait])
    told = client.get("/week/").text
    assert "Left out: no room beside the rest" in told
    assert "1 more stage waits for it" in told


def test_no_page_holds_a_style_or_a_script_of_its_own(client, place, owner):
    plans.coat(place)
    plans.draft([FRIDAY])
    for address in ("/week/", "/week/why/j1.mask/"):
        told = client.get(address).text
        assert "style=" not in told
        assert "<style" not in told
        assert "onclick" not in told


def test_what_is_no_date_is_no_page(client, place, owner):
    assert client.get("/week/2027-02-30/").status_code == 404
    assert client.get("/week/2027-05-24/build/").status_code == 405


def test_before_there_is_an_outfit_the_page_says_there_is_nothing(client, owner):
    assert not Outfit.objects.exists()
    assert client.get("/week/").status_code == 404


def test_on_sunday_the_next_week_is_shown(client, place, owner):
    assert "Week of 24 May" in client.get("/week/").text
    Outfit.objects.update(stands_at=plans.at(24, "06:00"))
    assert "Week of 24 May" in client.get("/week/").text
    Outfit.objects.update(stands_at=plans.at(30, "06:00"))
    assert "Week of 31 May" in client.get("/week/").text


def test_an_old_forecast_is_told_as_old(client, place, owner):
    plans.coat(place)
    Outfit.objects.update(stands_at=plans.at(24, "12:00"))
    told = client.get("/week/").text
    assert "forecast 18 h old" in told
    assert 'Get forecasts now<span class="hidden-words">: Sky' in told


def test_why_tells_hours_reasons_numbers_strength_and_source(client, place, owner):
    plans.coat(place)
    told = client.get("/week/why/j1.port-as-she-lies/").text
    told = told.replace("\N{NO-BREAK SPACE}", " ")
    assert "Second Wind: Spray port, two coats" in told
    assert "the product sheet of Lanternglass One" in told
    assert "Nobody may overrule it" in told
    assert "Common practice of the trade." in told
    assert "needs 5 °F" in told
    assert "limit 5 °F" in told


def test_why_of_a_stage_nobody_judged_is_not_a_go(client, place, owner):
    job = plans.coat(place)
    job.stages.get(key="mask").judged.all().delete()
    assert (
        "not a go: nobody has judged it yet." in client.get("/week/why/j1.mask/").text
    )


def test_why_tells_what_the_draft_made_of_it(client, place, owner):
    plans.coat(place)
    plans.draft([FRIDAY])
    assert "The draft has it Fri 07:40-08:35" in client.get("/week/why/j1.mask/").text


@pytest.mark.parametrize("name", ["j9.mask", "nothing", "j1.nothing"])
def test_why_of_no_stage_is_no_page(client, place, owner, name):
    assert client.get(f"/week/why/{name}/").status_code == 404


def test_an_account_that_left_the_owners_role_is_refused(client, place, owner):
    Account.objects.filter(pk=owner.pk).update(is_active=False)
    assert client.get("/week/").status_code in (302, 403)


SKY = "/week/2027-05-24/forecasts/"


def test_the_owner_has_all_forecasts_asked_for_and_is_told_what_came(
    client, place, owner
):
    assert f'action="{SKY}"' in client.get("/week/2027-05-24/").text
    assert client.post(SKY).url == "/week/2027-05-24/"
    assert "they wait for a worker" in client.get("/week/2027-05-24/").text
    assert "they wait for a worker" in client.get(f"{SKY}asked/").text
    sweeping.sweep()
    assert client.get(f"{SKY}asked/")["HX-Redirect"] == "/week/2027-05-24/"
    told = client.get("/week/2027-05-24/").text
    assert "Weather file: new for Marrow Road, issued Sun 23 May 18:00." in told


def test_without_a_source_the_owner_is_led_to_where_one_is_chosen(client, place, owner):
    PluginState.objects.all().delete()
    answer = client.post(SKY, follow=True)
    assert answer.redirect_chain[-1][0] == "/start/sky/"
    assert "No forecast source is enabled, so nothing was asked" in answer.text
    assert client.get("/favicon.ico")["Content-Type"] == "image/svg+xml"


def test_a_source_that_hangs_keeps_no_page_waiting(client, place, owner, monkeypatch):
    monkeypatch.setattr(guard, "LIMIT_S", 60.0)
    one = stranger(monkeypatch, lambda ask: Event().wait(600))
    monkeypatch.setattr(registry, "found", lambda: (one,))
    plugins.enable(one.name, {})
    begun = monotonic()
    client.post(SKY)
    assert client.get("/week/2027-05-24/").status_code == 200
    # Whoever asked it would wait a minute.
    assert monotonic() - begun < 30
    monkeypatch.setattr(guard, "LIMIT_S", 0.5)
    sweeping.sweep()
    told = client.get("/week/2027-05-24/").text
    assert "Stranger did not answer within 0.5 s and was ended." in told


def test_a_source_that_failed_is_named_on_the_page(client, place, owner):
    PluginState.objects.filter(name="weather_file").update(
        options={"folder": "/nowhere", "file": "none.csv", "issued_at": ""}
    )
    client.post(SKY)
    sweeping.sweep()
    told = client.get("/week/2027-05-24/").text
    assert "Weather file failed for Marrow Road." in told


@pytest.mark.parametrize("make", [people.crew, people.nobodys])
def test_nobody_else_asks_for_forecasts(client, place, make):
    client.force_login(make())
    assert client.post(SKY).status_code == 403
    assert client.get(f"{SKY}asked/").status_code == 403
