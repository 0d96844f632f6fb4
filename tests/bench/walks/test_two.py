"""Two browsers change one week at the same time, and nothing is lost."""

from tests.bench.walks.conftest import Come
from tests.bench.walks.hand import Hand
from tests.bench.walks.test_edit import ELSEWHERE
from tests.bench.walks.week import (
    ROOM_MINUTES,
    SHORT,
    boats,
    drafted,
    later,
    what_holds,
    with_room,
)


def tried(hand: Hand, minutes: int) -> tuple[str, str]:
    """Go to what holds a visit with room, try it some minutes later, and return its boat and that hour."""
    boat, _ = with_room(hand)
    clock = later(hand, minutes)
    hand.write("Start", clock, within=ELSEWHERE)
    hand.press("Try it", within=ELSEWHERE)
    hand.see("It fits:", within=ELSEWHERE)
    return boat, clock


def test_on_one_boat_the_second_sees_both_and_may_do_theirs(come: Come) -> None:
    first, second = come("orla"), come("orla")
    boat, mine = tried(first, ROOM_MINUTES - 5)
    _, theirs = tried(second, ROOM_MINUTES)
    second.press("Put it there in a draft")
    drafted(second, theirs)
    first.press("Put it there in a draft")
    first.see(f"Somebody else was first with {boat}")
    for line in ("When you opened the page", theirs, f"at {mine} with"):
        first.see(line)
    first.press("Do mine all the same")
    drafted(first, mine)
    second.press("Undo it", within="Changed by hand")
    second.see("Take the newest change back first")


def test_on_two_boats_both_stand(come: Come) -> None:
    first, second = come("orla"), come("orla")
    boat, _ = tried(first, ROOM_MINUTES)
    out, work = next(
        (one, work) for one, work in SHORT if one != boat and one in boats(second, work)
    )
    what_holds(second, out, work)
    part = f"Leave {out} out of this week"
    second.write("Why; kept with the week", "Her owner is away", within=part)
    second.press("Leave her out in a draft", within=part)
    drafted(second, f"{out} is left out")
    first.press("Put it there in a draft")
    first.see(boat, within="Changed by hand")
    first.see("Left out by hand (borne away)")
    first.see(out, within="Left out by hand (borne away)")
