"""The first run: from an empty house to a built and posted week with its visit; or into an invented outfit by one press."""

import os
import subprocess
import sys
import time
from datetime import datetime, timedelta
from re import compile as words
from zoneinfo import ZoneInfo

import pytest
from django.utils import timezone

from tests.bench.walks import house as houses
from tests.bench.walks.conftest import Come
from tests.bench.walks.hand import Hand

pytestmark = pytest.mark.timeout(900)
WITHIN_S = 600
ZONE = ZoneInfo("America/New_York")
ABLE = ("Lead", "Prep", "Mask", "Polish", "One-part spray", "Hose")
# Mild, dry and light: what a wash needs.
SKY = {"Wind, mph": "5", "Gusts": "8", "Wind from": "180", "Air in the shade": "60"}
SKY |= {"Dew point": "40", "Cloud": "30", "Rain, inches": "0", "Chance": "0"}

NAME = words("^Name$")


def word_of(house: houses.House) -> str:
    """Return the word that the house tells whoever runs it."""
    told = subprocess.run(
        [sys.executable, "manage.py", "first_word"],
        cwd=houses.ROOT,
        env=houses.around(house.data) | {"PATH": os.environ["PATH"]},
        check=True,
        capture_output=True,
        text=True,
    )
    return told.stdout.strip()


def moved_in(hand: Hand, word: str) -> None:
    hand.open("/")
    hand.write("The word of this house", word)
    hand.press("Go on")
    hand.see("This house is empty")


def made_mine(hand: Hand) -> None:
    """Make the house somebody's."""
    hand.write("The outfit's name", "Own & Co")
    hand.write("Town", "Pell Harbor")
    hand.write("Time zone", str(ZONE))
    hand.write("Your name", "Una Own")
    hand.write("Your initials", "UO")
    hand.write("The name you sign in with", "una")
    hand.write("Password", "grey-harbour-9")
    hand.write("The same again", "grey-harbour-9")
    hand.press("Make it mine")


def can_work(hand: Hand) -> None:
    hand.choose("Drives the vans")
    for skill in ABLE:
        hand.choose(words(f"^{skill}"), "2, well able", within="What they can")


def entered(hand: Hand) -> None:
    """Take each step: the base, two people, a van, a boat with her job, what is aboard."""
    hand.go("Go on: the base")
    hand.write(NAME, "Shop")
    hand.write("Latitude", "44.0935, -69.124")
    hand.press("Add the place")
    hand.go("Go on: people on duty")
    hand.write(NAME, "Rook Ferrante")
    hand.write("Initials", "RF")
    can_work(hand)
    hand.press("Add them")
    hand.go("Go on: yourself")
    can_work(hand)
    hand.press("Save the person")
    hand.go("Go on: a van")
    hand.write(NAME, "Knot")
    hand.write("Always aboard", "hand tools, washer, polisher")
    hand.press("Add the van")
    hand.go(words("^Not needed: on to"))
    hand.write("Name", "Second Wind", within="The boat")
    hand.write("Length, ft", "20")
    hand.write("Name", "Ames", within="Her customer")
    hand.choose("Place in the book", "Shop")
    hand.choose("Kind of job", "Maintenance wash")
    hand.press("Agreed: take it")


def until(moment: datetime) -> str:
    return moment.astimezone(ZONE).strftime("%Y-%m-%dT%H:00")


def sky_entered(hand: Hand) -> None:
    """Turn the limits on, and enter the sky by hand as far as may be."""
    hand.go("Go on: a sky")
    hand.press("Turn on those that need nothing more")
    hand.see("Turned on:")
    hand.go("The sky at Shop")
    hand.write("Until", until(timezone.now() + timedelta(hours=23)))
    for field, value in SKY.items():
        hand.write(field, value)
    hand.press("Enter the sky")
    hand.see("What hangs on it is being judged")


def test_from_an_empty_house_to_a_posted_week(
    visitor: Come, empty_house: houses.House
) -> None:
    began = time.monotonic()
    hand = visitor(empty_house)
    moved_in(hand, word_of(empty_house))
    made_mine(hand)
    entered(hand)
    sky_entered(hand)
    hand.go("Go on: the first week")
    hand.press("Build the week")
    hand.see("Draft: nobody has been told", seconds=120)
    hand.press("Post the week")
    hand.see("The week is posted")
    hand.see("Second Wind")
    assert time.monotonic() - began < WITHIN_S


def test_sample_data_is_one_press_away(
    visitor: Come, empty_house: houses.House
) -> None:
    hand = visitor(empty_house)
    moved_in(hand, word_of(empty_house))
    hand.press("Fill it with sample data")
    hand.see("orla", seconds=120)
    hand.open("/book/")
    hand.see("Plain Jane")
