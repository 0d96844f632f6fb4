"""Where things stand on the week's board: strips on a desk, a block for each boat on a phone."""

import re
from re import Pattern

from playwright.sync_api import expect

from tests.bench.walks.hand import Hand

PHONE = 390
# About a quarter of an hour by day, where the board is drawn as wide as on a small desk.
QUARTER_PX = 1.6


def visit(hand: Hand, boat: str, work: str) -> None:
    """Follow a boat's visit from the board to its Why, by some words of its work."""
    hand.go(called(hand, boat, work), within=boat if hand.width == PHONE else None)


def called(hand: Hand, boat: str, work: str) -> Pattern[str]:
    """Return how the board calls a boat's visit."""
    name = re.escape(work)
    return re.compile(name if hand.width == PHONE else f"^{re.escape(boat)}, .*{name}")


def what_holds(hand: Hand, boat: str, work: str) -> None:
    """Go from the board to what holds a boat's visit, where it may be put elsewhere."""
    visit(hand, boat, work)
    hand.go(re.compile("What holds it there"))


def drafted(hand: Hand, says: str) -> None:
    """See the draft that a change by hand made, and what it changes against the week that stands."""
    hand.see(says, within="Changed by hand")
    hand.see(re.compile("What this draft changes|This draft changes no visit"))
    hand.see("Nobody is told before you post it")


def undone(hand: Hand) -> None:
    """Take the last change by hand back."""
    hand.press("Undo it", within="Changed by hand")
    hand.see("Taken back.")


def shifted(hand: Hand, boat: str, work: str, quarters: int) -> None:
    """Move a visit along the board by quarter hours: with Shift and an arrow, or dragged about as far."""
    link = hand.page.get_by_role("link", name=called(hand, boat, work))
    hand.how.reach(link)
    if hand.by == "keys":
        arrow = "Shift+ArrowRight" if quarters > 0 else "Shift+ArrowLeft"
        for _ in range(abs(quarters)):
            hand.how.strike(arrow)
        return
    box, mouse = link.locator("rect").first.bounding_box(), hand.page.mouse
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    mouse.move(x, y)
    mouse.down()
    mouse.move(x + quarters * QUARTER_PX, y, steps=5)
    mouse.up()


def answered(hand: Hand, words: str | Pattern[str]) -> str:
    """Wait until the board answers to a visit moved with words; return all it says, judged as a page."""
    told = hand.page.locator("#dropped")
    expect(told).to_contain_text(words, timeout=20_000)
    hand.judge()
    return " ".join(told.inner_text().split())
