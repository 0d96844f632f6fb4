"""Two browsers change one week at the same time, and nothing is lost."""

from tests.bench.walks.conftest import Come
from tests.bench.walks.hand import Hand
from tests.bench.walks.test_edit import ELSEWHERE
from tests.bench.walks.week import drafted, what_holds

WORK = "Maintenance wash"


def tried(hand: Hand, hour: str) -> None:
    """Go to what holds a visit, and try another hour of it until it fits."""
    what_holds(hand, "Kittiwake", WORK)
    hand.choose("Van", "Knot", within=ELSEWHERE)
    hand.choose("Day", "Wed 26 May", within=ELSEWHERE)
    hand.write("Start", hour, within=ELSEWHERE)
    hand.press("Try it", within=ELSEWHERE)
    hand.see("It fits:", within=ELSEWHERE)


def test_on_one_boat_the_second_sees_both_and_may_do_theirs(come: Come) -> None:
    first, second = come("orla"), come("orla")
    tried(first, "15:00")
    tried(second, "15:10")
    second.press("Put it there in a draft")
    drafted(second, "Wednesday 15:10")
    first.press("Put it there in a draft")
    first.see("Somebody else was first with Kittiwake")
    for line in ("When you opened the page", "Wed 15:10", "at 15:00 with"):
        first.see(line)
    first.press("Do mine all the same")
    drafted(first, "Wednesday 15:00")
    second.press("Undo it", within="Changed by hand")
    second.see("Take the newest change back first")


def test_on_two_boats_both_stand(come: Come) -> None:
    first, second = come("orla"), come("orla")
    tried(first, "15:00")
    what_holds(second, "Gannet's Bargain", "Put panels right")
    part = "Leave Gannet's Bargain out of this week"
    second.write("Why; kept with the week", "Her owner is away", within=part)
    second.press("Leave her out in a draft", within=part)
    drafted(second, "Gannet's Bargain is left out")
    first.press("Put it there in a draft")
    first.see("Kittiwake, Maintenance wash", within="Changed by hand")
    first.see("Left out by hand (borne away)")
    first.see("Gannet's Bargain", within="Left out by hand (borne away)")
