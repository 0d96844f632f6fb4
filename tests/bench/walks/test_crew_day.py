"""A crew member's day and a customer's page: loaded, begun, read, told and done; and what their boat's own link shows."""

from re import compile as words

import pytest
from playwright.sync_api import Locator

from tests.bench.walks.conftest import Come
from tests.bench.walks.hand import Hand

BOAT = "Plain Jane"
WORK = "Mask and drape"


def pressed(hand: Hand, target: Locator) -> None:
    """Press the first of things called alike: the day is worked from its top."""
    hand.how.press(target.first)
    hand.watch.step()


@pytest.fixture
def crew(come: Come) -> Hand:
    """Return one of the two who are masking a boat on Monday, with the demo's clock at six that morning."""
    come("orla").press("to 06:00")
    return come("maeve")


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
    crew.press(f"Store what was read on {BOAT}")
    crew.see("Read the hull: 1 read")
    pressed(
        crew, crew.page.locator("summary").filter(has_text="Something is wrong, or")
    )
    crew.write(f"What the owner should know of {BOAT}", "A stanchion is loose")
    crew.press(f"Tell the owner of {BOAT}")
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
