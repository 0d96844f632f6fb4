"""The week changed by hand: every change is a draft that tells what it does, and is taken back."""

import re

import pytest

from tests.bench.walks.hand import Hand
from tests.bench.walks.week import PHONE, answered, drafted, shifted, undone, what_holds

ELSEWHERE = "Put it elsewhere"


def test_a_visit_is_put_elsewhere_by_the_form(board: Hand) -> None:
    what_holds(board, "Kittiwake", "Maintenance wash")
    board.write("Start", "02:00", within=ELSEWHERE)
    board.press("Try it", within=ELSEWHERE)
    board.see("It springs back:", within=ELSEWHERE)
    board.see(re.compile(r"is not possible\. .*\d\d:\d\d"), within=ELSEWHERE)
    put_where_it_fits(board)
    drafted(board, "Kittiwake, Maintenance wash")
    undone(board)


def put_where_it_fits(hand: Hand) -> None:
    """Try hours of two days till a van has room, and put it there."""
    for day, hour in (("Wed 26 May", "15:00"), ("Tue 25 May", "08:05")):
        for van in ("Knot", "Plover", "Eider"):
            hand.choose("Van", van, within=ELSEWHERE)
            hand.choose("Day", day, within=ELSEWHERE)
            hand.write("Start", hour, within=ELSEWHERE)
            hand.press("Try it", within=ELSEWHERE)
            if "It fits" in hand.read(within=ELSEWHERE):
                hand.see(re.compile(r"It fits: .+ \$\d"), within=ELSEWHERE)
                hand.press("Put it there in a draft")
                return
    raise AssertionError("It fits nowhere.")


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
    for boat, work in (
        ("Loose Change", "Compound"),
        ("Gannet's Bargain", "Put panels"),
    ):
        shifted(board, boat, work, 8)
        if "It fits" in answered(board, re.compile("It fits|It springs back")):
            break
    if board.by == "keys":
        board.how.strike("Enter")
    else:
        board.press("Put it there in a draft")
    drafted(board, f"{boat}, {work}")
    undone(board)


def test_a_visit_is_made_fast_and_cast_off(board: Hand) -> None:
    what_holds(board, "Curlew", "Mask and drape")
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
    ways(board, "Curlew")
    board.see(
        "This plan has her as she lies", within="Turn or cover Curlew", seconds=40
    )
    board.see(
        re.compile(r"It fits\. The week costs|Not possible\. \w+"),
        within="Turn or cover Curlew",
    )
    board.judge()


def test_a_boat_is_turned(board: Hand) -> None:
    ways(board, "Bread & Butter")
    told = "Turn or cover Bread & Butter"
    board.see("This plan has her turned", within=told, seconds=40)
    board.judge()


def ways(hand: Hand, boat: str) -> None:
    """Ask on the board what turning or covering a boat does to the week."""
    if hand.width == PHONE:
        hand.go(re.compile(f"^Turn or cover her: {boat}"))
    else:
        hand.go(re.compile(f"^{boat}: turn or cover her"))


def test_a_boat_is_left_out_and_taken_in(board: Hand) -> None:
    what_holds(board, "Kittiwake", "Maintenance wash")
    part = "Leave Kittiwake out of this week"
    board.write("Why; kept with the week", "Her owner is away", within=part)
    board.press("Leave her out in a draft", within=part)
    drafted(board, "Kittiwake is left out")
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
