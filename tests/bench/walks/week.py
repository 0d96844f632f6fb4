"""Where things stand on the week's board: strips on a desk, a block for each boat on a phone."""

import re
from re import Pattern

from tests.bench.walks.hand import Hand

PHONE = 390


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
