"""The week changed by hand: every change is a draft that tells what it does, and is taken back."""

import itertools
import re

import pytest

from tests.bench.walks.hand import Hand
from tests.bench.walks.week import (
    PHONE,
    ROOM_MINUTES,
    answered,
    boats,
    drafted,
    later,
    shifted,
    short,
    undone,
    what_holds,
    with_room,
    with_ways,
)

ELSEWHERE = "Put it elsewhere"
MASK = "Mask and drape"
TURN, COVER = re.compile("^Turn her"), re.compile("^Cover her")
# What a plan that has her done so says, and what may be done instead.
DONE = {
    TURN: ("This plan has her turned", COVER),
    COVER: ("This plan has her under a roof", TURN),
}


def test_a_visit_is_put_elsewhere_by_the_form(board: Hand) -> None:
    boat, work = with_room(board)
    clock = later(board, ROOM_MINUTES)
    board.write("Start", "02:00", within=ELSEWHERE)
    board.press("Try it", within=ELSEWHERE)
    board.see("It springs back:", within=ELSEWHERE)
    board.see(re.compile(r"is not possible\. .*\d\d:\d\d"), within=ELSEWHERE)
    board.write("Start", clock, within=ELSEWHERE)
    board.press("Try it", within=ELSEWHERE)
    board.see(
        re.compile(r"It fits: .+ \$\d|It fits: .+ costs the same"), within=ELSEWHERE
    )
    board.press("Put it there in a draft")
    drafted(board, f"{boat}, “{work}")
    undone(board)


def test_a_visit_springs_back_on_the_board(board: Hand) -> None:
    if board.width == PHONE:
        pytest.skip("A phone shows a block for each boat: the form puts it elsewhere.")
    shifted(board, "Kittiwake", "Maintenance wash", quarters=-16)
    told = answered(board, "It springs back")
    assert re.search(r"\d\d:\d\d", told), told
    board.see("Standing since")


def test_a_visit_is_put_elsewhere_on_the_board(board: Hand) -> None:
    if board.width == PHONE:
        pytest.skip("A phone shows a block for each boat: the form puts it elsewhere.")
    for quarters, (boat, work) in itertools.product((8, -8, 4, -4), short(board)):
        shifted(board, boat, work, quarters)
        if "It fits" in answered(board, re.compile("It fits|It springs back")):
            break
    if board.by == "keys":
        board.how.strike("Enter")
    else:
        board.press("Put it there in a draft")
    drafted(board, f"{boat}, “{work}")
    undone(board)


def test_a_visit_is_made_fast_and_cast_off(board: Hand) -> None:
    what_holds(board, boats(board, MASK)[0], MASK)
    board.press(re.compile(r"^Make it fast \(pin it\)"))
    board.see(re.compile(r"It is made fast \(pinned\) to \w+"))
    board.press("Cast it off (unpin)")
    board.see("It may be moved again.")


def test_two_people_change_places(board: Hand) -> None:
    what_holds(board, "Kittiwake", "Maintenance wash")
    rides = re.compile("^Who rides in")
    board.choose("goes", "Orla Tarrow", within=rides)
    board.press("Swap them in a draft", within=rides)
    board.see(re.compile("rides in|It springs back|not possible|cannot"))
    if "rides in" in board.read() and "Undo it" in board.read():
        undone(board)


def test_a_boat_is_covered(board: Hand) -> None:
    boat = another_way(board, COVER)
    ways(board, boat)
    told = f"Turn or cover {boat}"
    board.see(DONE[COVER][0], within=told)
    board.open("/week/")
    undone(board)


def test_a_boat_is_turned(board: Hand) -> None:
    boat = another_way(board, TURN)
    ways(board, boat)
    told = f"Turn or cover {boat}"
    board.see(DONE[TURN][0], within=told)
    board.open("/week/")
    undone(board)


def another_way(hand: Hand, way: re.Pattern[str]) -> str:
    """Have a boat that it fits done another way in a draft, and return her name.

    Where it fits none, boats to be sprayed are left out one after the other until it does.
    """
    for out in ("", *boats(hand, MASK)):
        if out:
            what_holds(hand, out, MASK)
            left_out(hand, out, "To make room")
            hand.open("/week/")
        for boat in with_ways(hand):
            if taken_another_way(hand, boat, way):
                return boat
            hand.open("/week/")
    raise AssertionError(f"No boat may be done so: {way.pattern}")


def taken_another_way(hand: Hand, boat: str, way: re.Pattern[str]) -> bool:
    """Ask what else may be done with a boat, and take it in a draft where it fits; done so already, she is done otherwise first."""
    told, offered = f"Turn or cover {boat}", hand.page.get_by_role("button", name=way)
    asked_ways(hand, boat)
    already, other = DONE[way]
    instead = hand.page.get_by_role("button", name=other)
    if already in hand.read(within=told) and instead.count():
        hand.press(other, within=told)
        drafted(hand, boat)
        hand.open("/week/")
        asked_ways(hand, boat)
    if not offered.count():
        return False
    hand.press(way, within=told)
    drafted(hand, boat)
    return True


def asked_ways(hand: Hand, boat: str) -> None:
    """Ask what else may be done with a boat, and read it."""
    ways(hand, boat)
    hand.see(
        re.compile("Nothing changes until|No other way"),
        within=f"Turn or cover {boat}",
    )
    hand.judge()


def left_out(hand: Hand, boat: str, why: str) -> None:
    """Leave a boat out of the week in a draft, from the page of what holds a visit of hers."""
    part = f"Leave {boat} out of this week"
    hand.write("Why; kept with the week", why, within=part)
    hand.press("Leave her out in a draft", within=part)
    drafted(hand, f"{boat} is left out")


def ways(hand: Hand, boat: str) -> None:
    """Ask on the board what turning or covering a boat does to the week."""
    if hand.width == PHONE:
        hand.go(re.compile(f"^Turn or cover her ?: {boat}"))
    else:
        hand.go(re.compile(f"^{boat}: turn or cover her"))


def test_a_boat_is_left_out_and_taken_in(board: Hand) -> None:
    what_holds(board, "Kittiwake", "Maintenance wash")
    left_out(board, "Kittiwake", "Her owner is away")
    board.see("Her owner is away", within="Left out by hand (borne away)")
    board.press(re.compile("^Plan her again ?: Kittiwake"))
    board.see("Kittiwake may be planned again.")
    undone(board)


def test_everything_is_held_still(board: Hand) -> None:
    board.unfold("No plan is taken and no message leaves")
    board.write(
        "Why", "A boat is half sprayed", within="Hold everything still (heave to)"
    )
    board.press("Hold everything still")
    board.see("A boat is half sprayed", within="Held still")
    board.see("No plan is taken and no message leaves", within="Held still")
    board.press("Let it go on", within="Held still")
    board.see("Standing since")
    assert board.page.get_by_role("region", name="Held still").count() == 0
