"""A week is built beside the one that stands, watched, and taken whole, in part, or left."""

import re
import time

from tests.bench.walks.hand import Hand
from tests.bench.walks.week import take

CHANGES = "What this draft changes"
QUIET_S = 60
CLOCK = re.compile(r"stands at (\w+ \d+ \w+) \d+ (\d\d:\d\d)")


def built(hand: Hand) -> None:
    """Ask for a week, see how it goes on, and take the best so far."""
    hand.press("Build the week again")
    hand.see(
        re.compile(r"Looking for a better week: the best week so far costs \$[\d,]+"),
        within="Progress",
        seconds=90,
    )
    hand.see(
        re.compile(
            r"no week costs less than \$[\d,]+, so a better one could save \$[\d,]+ at most"
        ),
        within="Progress",
    )
    hand.press("Stop, keep the best so far")
    hand.see(CHANGES, seconds=90)
    hand.see("Draft: nobody has been told.")


def leaving(hand: Hand, shown: str) -> bool:
    """Whether the page of messages shows one that is being sent, or is due as the demo's clock stands."""
    clock = CLOCK.search(hand.page.locator("body").inner_text())
    waits = clock is not None and f"Due {clock[1]} {clock[2]}" in shown
    return waits or "being sent now" in shown


def told(hand: Hand) -> str:
    """Return what the page of messages tells once all that was due has gone out: a draft must not change it."""
    hand.go("Messages")
    before, shown = "", hand.read()
    until = time.monotonic() + QUIET_S
    while (shown != before or leaving(hand, shown)) and time.monotonic() < until:
        hand.page.wait_for_timeout(2000)
        hand.open("/messages/")
        before, shown = shown, hand.read()
    hand.go("Week")
    return shown


def test_a_build_is_watched_and_stopped_and_left_and_tells_nobody(board: Hand) -> None:
    board.see("Standing since")
    before = told(board)
    built(board)
    board.see("Nobody is told of a draft", within="The week at a glance")
    assert told(board) == before
    board.press("Leave it aside")
    board.see("The draft is left aside.")
    board.see("Standing since")
    assert told(board) == before


def test_a_draft_stands_beside_the_week_that_stands(board: Hand) -> None:
    built(board)
    board.see(
        re.compile(
            r"Against the standing week, were that kept, it costs|costs the same"
        ),
        within=CHANGES,
    )
    board.unfold(re.compile("Whose days change"))
    board.see(
        re.compile(
            r"expects us from \w{3} \d\d:\d\d and must be told|has not been told"
        ),
        within=CHANGES,
    )
    board.go("see what stands now")
    board.see("this is what people are told")
    board.go("See the newer draft")
    board.press("Leave it aside")
    board.see("The draft is left aside.")


def test_a_draft_is_taken_in_part_and_then_whole(owner: Hand) -> None:
    built(owner)
    keep = owner.page.get_by_role(
        "button", name=re.compile("^Keep it as it stands")
    ).first
    owner.how.press(keep)
    # It is kept as it stands in another draft, or refused with the reason on its own page.
    owner.see(re.compile("By hand: |not possible"))
    owner.go("Week")
    take(owner)
    owner.see("The week is posted")
