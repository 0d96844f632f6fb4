"""A crew member's day and a customer's page: loaded, begun, read, told and done; and what their boat's own link shows."""

from re import compile as words

import pytest
from playwright.sync_api import Locator

from tests.bench.walks.conftest import Come
from tests.bench.walks.hand import Hand
from tests.bench.walks.test_replan import ENTER, anew
from tests.bench.walks.week import take

BOAT = "Plain Jane"
WORK = "Mask and drape"


def pressed(hand: Hand, target: Locator) -> None:
    """Press the first of things called alike: the day is worked from its top."""
    hand.how.press(target.first)
    hand.watch.step()


def masker(owner: Hand) -> str:
    """Return the sign-in of one of those who mask the boat on Monday, as the board has it."""
    strip = f"svg.board a[aria-label^='{BOAT}, Mon'][aria-label*='{WORK}']"
    label = owner.page.locator(strip).first.get_attribute("aria-label") or ""
    return label.rpartition(f"{WORK}, ")[2].split()[0].lower()


@pytest.fixture
def crew(come: Come) -> Hand:
    """Return one of those who mask a boat on Monday, with the demo's clock at six that morning."""
    owner = come("orla")
    name = masker(owner)
    owner.press("to 06:00")
    return come(name)


def test_a_day_is_loaded_worked_and_told(crew: Hand) -> None:
    crew.see("Monday 24 May")
    crew.see(BOAT)
    button = crew.page.get_by_role
    pressed(crew, button("button", name=words(f"^Start .*{BOAT}")))
    crew.see("Started Mon 06:00")
    pressed(crew, crew.page.locator("summary").filter(has_text="Read the hull"))
    knot = crew.page.locator("li.knot").filter(has_text=WORK).first
    crew.how.write(knot.get_by_label("Hull, °F"), "54")
    crew.how.write(knot.get_by_label("Air, °F"), "52")
    crew.press(f"Store what was read on {BOAT}: {WORK}")
    crew.see("Read the hull: 1 read")
    pressed(
        crew, crew.page.locator("summary").filter(has_text="Something is wrong, or")
    )
    crew.write(f"What the owner should know of {BOAT}: {WORK}", "A stanchion is loose")
    crew.press(f"Tell the owner of {BOAT}: {WORK}")
    crew.see("The owner sees it among the latest changes.")
    pressed(crew, button("button", name=words(f"^Done: .*{BOAT}")))
    crew.see("Done Mon 06:00")
    crew.go(words("^Tue 25"))
    crew.see("Tuesday 25 May")
    crew.go("Your visits in your own calendar")
    crew.see("Ask the owner.")


def test_a_customer_answers_and_is_called(come: Come) -> None:
    owner = come("orla")
    owner.go("Boat links")
    owner.go("Look", within=BOAT)
    owner.see("Her work, step by step")
    owner.write("A word with it", "The key is under the mat")
    owner.press("The gate is open")
    owner.see("The key is under the mat")
    owner.press("Please call me")
    owner.see(words("[Cc]all"))
    owner.open("/week/")
    owner.go("Messages", within="Pages")
    owner.see("Okafor", within=words("^Call by hand"))
    owner.press(f"Okafor was called about {BOAT}")
    owner.miss("Call by hand")


def test_an_overrun_is_told_and_the_rest_planned_anew(come: Come) -> None:
    owner = come("orla")
    crew = come(masker(owner))
    owner.press("to 06:00")
    for _ in range(3):
        owner.press("1 hour on")
    crew.open("/")
    pressed(crew, crew.page.get_by_role("button", name=words(f"^Start .*{BOAT}")))
    crew.see("Started Mon 09:00")
    fold = crew.page.locator("summary").filter(has_text="Something is wrong, or")
    pressed(crew, fold)
    crew.write(
        f"What the owner should know of {BOAT}: {WORK}", "The tape lifts: till 14:30"
    )
    crew.press(f"Tell the owner of {BOAT}: {WORK}")
    crew.see("The owner sees it among the latest changes.")
    owner.go("Week", within="Pages")
    owner.see("The tape lifts: till 14:30")
    owner.go("What has happened?")
    part = "Work takes longer"
    owner.choose("Which", f"{BOAT}: {WORK}", within=part)
    owner.write("Until today at", "08:00", within=part)
    owner.press("Enter it only", within=part)
    owner.see("give a time later than that")
    owner.choose("Which", f"{BOAT}: {WORK}", within=part)
    owner.write("Until today at", "14:30", within=part)
    said = f"{WORK} on {BOAT} takes until Mon 14:30"
    anew(owner, ENTER, said, within=part)
    take(owner)
    owner.see("The week is posted")
