"""What customers are told: kept back while all is held still, and told again when what they were told is undone."""

import re

from tests.bench.walks.hand import Hand, Words
from tests.bench.walks.week import take, what_holds

# Told on Sunday evening that the crew comes on Monday; she has not given way before.
BOAT, WORK = "Plain Jane", "Mask and drape"
SENT = re.compile("^Sent")


def gone_out(hand: Hand, line: str, words: Words) -> None:
    """See on the page of messages that one has gone out: its line, and the words folded under it."""
    hand.go("Messages", within="Pages")
    for _ in range(30):
        named = hand.page.get_by_role("region", name=SENT)
        if named.count() and line in hand.read(within=SENT):
            hand.unfold(line, within=SENT)
            if re.search(words, hand.read(within=SENT)):
                break
        hand.page.wait_for_timeout(2000)
        hand.open("/messages/")
    hand.see(words, within=SENT)


def test_a_message_is_held_back_and_goes_out_later(owner: Hand) -> None:
    owner.press("to 06:00")
    hold = "Hold everything still (heave to)"
    owner.unfold("No plan is taken and no message leaves")
    owner.write("Why", "A boat is half sprayed", within=hold)
    owner.press("Hold everything still", within=hold)
    for _ in range(3):
        owner.press("1 hour on")
    owner.page.wait_for_timeout(5000)
    owner.go("Messages", within="Pages")
    owner.see("Everything is held still since Mon 24 May 06:00: A boat is half sprayed")
    waiting = re.compile("^Waiting")
    owner.see("we come today", within=waiting)
    owner.unfold("we come today", within=waiting)
    owner.see("today, Mon 24 May between", within=waiting)
    owner.miss("see whether a plugin for it is turned on")
    owner.go("Week", within="Pages")
    owner.press("Let it go on", within="Held still")
    gone_out(owner, "we come today", re.compile("today, Mon 24 May between"))
    owner.miss("held still")


def test_who_was_told_otherwise_is_told_again_when_it_is_undone(owner: Hand) -> None:
    comes = rf"{BOAT}: our crew will be with you at [\w ]+ Mon 24 May between"
    gone_out(owner, f"{BOAT}: we come Mon 24 May", re.compile(comes))
    owner.go("Week", within="Pages")
    what_holds(owner, BOAT, WORK)
    part = f"Leave {BOAT} out of this week"
    owner.write("Why; kept with the week", "Her owner is away", within=part)
    owner.press("Leave her out in a draft", within=part)
    take(owner)
    line = f"{BOAT}: our visit has moved"
    moved = rf"{BOAT}: our visit of Mon 24 May at [\w ]+ has moved\. "
    gone_out(owner, line, re.compile(moved + "The new time is not settled yet"))
    owner.go("Week", within="Pages")
    owner.press("Draft the week as it stood before")
    take(owner)
    gone_out(
        owner, line, re.compile(moved + "We will now be with you Mon 24 May between")
    )
