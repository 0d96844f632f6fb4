"""Something happens, an alarm says so, a draft with the fewest changes mends it, and whom it changes must be told."""

import re
import time

from tests.bench.walks.hand import Hand

AWAY = "Somebody is away"
# What the rest of a week planned anew may take from the tap to the draft, seconds, on a quiet machine.
SOON_S = 10


def drafted(hand: Hand, because: str) -> None:
    """See the draft come, with its cause and whom it changes, and leave it aside."""
    began = time.monotonic()
    hand.see("What this draft changes", seconds=60)
    took = time.monotonic() - began
    hand.see(f"Because: {because}", within="What this draft changes")
    hand.see(
        re.compile("has not been told of this visit yet|must be told|told"),
        within="What this draft changes",
    )
    hand.unfold(re.compile("Whose days change"))
    print(f"A draft in {took:.0f} s, {SOON_S} wanted")  # noqa: T201 - a figure
    hand.press("Leave it aside")
    hand.see("The draft is left aside.")


def test_somebody_is_sick(owner: Hand) -> None:
    owner.go("What has happened?")
    owner.choose("Who", "Rook Ferrante", within=AWAY)
    owner.write("From the day", "2027-05-24", within=AWAY)
    owner.write(re.compile("^Why"), "sick", within=AWAY)
    owner.press("Enter it only", within=AWAY)
    owner.go(re.compile("Back to the week"))
    owner.see("Away Monday (sick)")
    owner.press(re.compile("^Plan the rest anew: Rook Ferrante"))
    drafted(owner, "Rook Ferrante")


def test_a_van_breaks_down(owner: Hand) -> None:
    part = "A van is off the road"
    owner.go("What has happened?")
    owner.choose("Which", "Knot", within=part)
    owner.write("From the day", "2027-05-25", within=part)
    owner.press("Enter it and plan the rest anew", within=part)
    drafted(owner, "Knot is off the road on Tuesday 25 May.")


def test_a_trailer_is_missing(owner: Hand) -> None:
    part = "A trailer or canopy stands elsewhere"
    owner.go("What has happened?")
    owner.choose("Which", "Loft", within=part)
    owner.choose("It stands at", "Driveway, Ledge Point", within=part)
    owner.press("Enter it and plan the rest anew", within=part)
    drafted(owner, "Loft")


def test_a_boat_was_moved(owner: Hand) -> None:
    part = "A boat was moved or turned"
    owner.go("What has happened?")
    owner.choose("Which", "Curlew", within=part)
    owner.choose("She lies at", "Tamarack Dry Stack", within=part)
    owner.write(re.compile("^She heads, in degrees"), "110", within=part)
    owner.press("Enter it", within=part)
    owner.see("110")
    owner.open("/week/")
    owner.press("Plan the rest anew")
    owner.see("What this draft changes", seconds=120)
