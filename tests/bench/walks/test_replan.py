"""Something happens, an alarm says so, a draft with the fewest changes mends it, and whom it changes must be told."""

import re

from tests.bench.walks import pace
from tests.bench.walks.hand import Hand, Words
from tests.bench.walks.week import boats, snags

AWAY = "Somebody is away"
ENTER = "Enter it and plan the rest anew"
CHANGES = "What this draft changes"
STACK, THERE = "Tamarack Dry Stack", ("Curlew", "Kittiwake")
# What the rest of a week planned anew may take from the tap to the draft, seconds, on a quiet machine.
SOON_S = 10


def anew(
    hand: Hand, button: Words, because: str, *, within: Words | None = None
) -> None:
    """Ask for the rest of the week: the draft comes soon, with its cause and whom it changes."""
    slowed = pace.slowed()
    took = hand.ask(button, CHANGES, within=within)
    allowed = SOON_S * max(slowed, pace.slowed())
    assert took <= allowed, f"a draft after {took:.0f} s, {allowed:.0f} allowed"
    hand.see(f"Because: {because}", within=CHANGES)
    hand.see(
        re.compile("has not been told of this visit yet|must be told|told"),
        within=CHANGES,
    )
    hand.unfold(re.compile("Whose days change"))


def left(hand: Hand) -> None:
    """Leave the draft aside."""
    hand.press("Leave it aside")
    hand.see("The draft is left aside.")


def test_somebody_is_sick(owner: Hand) -> None:
    owner.go("What has happened?")
    owner.choose("Who", "Rook Ferrante", within=AWAY)
    owner.write("From the day", "2027-05-24", within=AWAY)
    owner.write(re.compile("^Why"), "sick", within=AWAY)
    owner.press("Enter it only", within=AWAY)
    owner.go(re.compile("Back to the week"))
    snags(owner)
    owner.see("Away Monday (sick)")
    anew(owner, re.compile("^Plan the rest anew ?: Rook Ferrante"), "Rook Ferrante")
    left(owner)


def test_a_van_breaks_down(owner: Hand) -> None:
    part = "A van is off the road"
    owner.go("What has happened?")
    owner.choose("Which", "Knot", within=part)
    owner.write("From the day", "2027-05-25", within=part)
    anew(owner, ENTER, "Knot is off the road on Tuesday 25 May.", within=part)
    left(owner)


def test_a_trailer_is_missing(owner: Hand) -> None:
    part = "A trailer or canopy stands elsewhere"
    owner.go("What has happened?")
    owner.choose("Which", "Loft", within=part)
    owner.choose("It stands at", "Driveway, Ledge Point", within=part)
    anew(owner, ENTER, "Loft", within=part)
    left(owner)


def test_a_boat_was_moved(owner: Hand) -> None:
    part = "A boat was moved or turned"
    boat = [one for one in boats(owner, "Spray port") if one not in THERE][-1]
    owner.go("What has happened?")
    owner.choose("Which", boat, within=part)
    owner.choose("She lies at", STACK, within=part)
    owner.write(re.compile("^She heads, in degrees"), "110", within=part)
    owner.press("Enter it", within=part)
    owner.see("110")
    owner.open("/week/")
    owner.ask("Plan the rest anew", CHANGES)
    if "more visit" in owner.read(within=CHANGES):
        owner.unfold(re.compile("more visit"), within=CHANGES)
    owner.see(boat, within=CHANGES)
    left(owner)
