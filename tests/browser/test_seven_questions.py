"""The seven questions an owner asks the week: each answered on the first screen, without a tap, at a desk and on a phone."""

import re

import pytest
from playwright.sync_api import Page, expect

from dispatch.actions import book, history, mends, planning, seen, weather
from dispatch.records.models import (
    Boat,
    Customer,
    Job,
    JobKind,
    Outfit,
    Sheet,
    Stage,
    WeekPlan,
)
from tests.actions import plans
from tests.browser.test_owner_week import FRIDAY, enter
from tests.web import people

pytestmark = pytest.mark.timeout(120)
SIZES = [(1440, 900), (390, 844)]
SATURDAY = (29, "08:00", "10:00", [("j2.wash", "08:10", "09:10")])


def osprey(place) -> None:
    """Take another boat into the book, to be washed; her customer takes no messages."""
    other = Customer.objects.create(name="Ode", time_zone=place.time_zone)
    boat = Boat.objects.create(
        key="osprey", name="Osprey", customer=other, length_m=6.0, place=place
    )
    kind = JobKind.objects.get(key="wash")
    made = book.take_job(key="j2", boat=boat, kind=kind, unfinished_cents=900)
    weather.judge(made.stages.get())


@pytest.fixture
def week(transactional_db):
    """Return a posted week on Friday at one: port is wet, starboard is to come, the promise was noon."""
    place = plans.outfit()
    plans.coat(place, promise=Job.Promise.HARD, promised_by=plans.at(28, "12:00"))
    Sheet.objects.update(pack_cents=6400)
    plans.person("corin", "Corin Vale", "CV")
    owner = people.owner()
    osprey(place)
    plan = plans.draft([FRIDAY, SATURDAY])
    planning.post(plan, by=owner, why="The owner watches it herself.")
    for key, start, end in (
        ("mask", "07:40", "08:35"),
        ("port-as-she-lies", "09:30", "10:55"),
    ):
        Stage.objects.filter(job__key="j1", key=key).update(
            state=Stage.State.DONE,
            started_at=plans.at(28, start),
            ended_at=plans.at(28, end),
        )
    Outfit.objects.update(stands_at=plans.at(28, "13:00"))
    seen.look(by=owner)
    Outfit.objects.update(stands_at=plans.at(28, "13:01"))
    history.write("note", "week", "Fog holds the harbor.", actor="sky")
    mends.price(str(WeekPlan.objects.get(state="standing").pk))
    return owner


def on_the_first_screen(page: Page, name: str) -> str:
    """Return an answer, once it is seen whole without a tap or a scroll."""
    line = page.locator(
        ".glance li", has=page.get_by_role("link", name=name, exact=True)
    )
    expect(line).to_be_visible()
    box, height = line.bounding_box(), page.viewport_size["height"]
    assert box["y"] >= 0
    assert box["y"] + box["height"] <= height, f"{name} lies beneath the first screen"
    assert page.evaluate("scrollY") == 0
    return line.locator("span").first.inner_text()


@pytest.fixture
def board(new_page, week, request):
    width, height = request.param
    page = new_page(width=width, height=height)
    enter(page)
    return page


ASKED = {
    "which boats are wet, until when, what threatens them": (
        "Wet or setting",
        r"Second Wind: wet.*rain-safe about Fri 14:\d\d.*no rain or dew",
    ),
    "which spray slots remain, best first, and who could take them": (
        "Spray slots",
        r"Best Fri 13:0\d-19:00 for Second Wind, “Spray transom.*”: Corin Vale free",
    ),
    "where a promise is about to break, and the cheapest mend": (
        "Promises",
        r"Second Wind: .* late: promised by Fri 12:00, a hard date\. .*mend",
    ),
    "who is idle or over hours": ("Crew", r"Idle Fri: Corin Vale"),
    "what runs short before it can arrive": (
        "Stores",
        r"Lanternglass One runs short Fri 15:50\. Order 1 can at once: \$64",
    ),
    "what changed since I looked, by whom": (
        "Changed",
        r"1 since you looked, the last .* by sky: Fog holds the harbor",
    ),
    "whom I have not told": ("Not told", r"1 to call by hand: first Osprey"),
}


@pytest.mark.parametrize("board", SIZES, indirect=True, ids=["desk", "phone"])
def test_each_question_is_answered_on_the_first_screen(board):
    told = {
        asked: on_the_first_screen(board, name) for asked, (name, _) in ASKED.items()
    }
    amiss = {
        asked: told[asked]
        for asked, (_, says) in ASKED.items()
        if not re.search(says, told[asked])
    }
    assert amiss == {}


@pytest.mark.parametrize("board", SIZES[1:], indirect=True)
def test_an_answer_leads_to_what_tells_more(board):
    board.locator(".glance").get_by_role("link", name="Not told").click()
    expect(board.locator("#untold")).to_be_in_viewport()
    board.locator(".glance").get_by_role("link", name="Wet or setting").click()
    expect(board.locator(".only [aria-current]")).to_contain_text("Wet or setting")
