"""Where things stand on the week's board: strips on a desk, a block for each boat on a phone."""

import re
from re import Pattern

from playwright.sync_api import expect

from tests.bench.walks.hand import Hand

PHONE = 390
# About a quarter of an hour by day, where the board is drawn as wide as on a small desk.
QUARTER_PX = 1.6
# Work of a few hours, of which some will have room beside it in any plan.
SHORT = (
    ("Kittiwake", "Maintenance wash"),
    ("Gannet's Bargain", "Put panels right"),
    ("Tenfold", "Change decals and numbers"),
    ("Harrier's Debt", "Grind and fill"),
    ("Loose Change", "Polish and seal"),
    ("Auntie Em", "Clear out"),
)
ROOM_MINUTES = 10
LATER = re.compile(
    r"(?:sooner or|could start) (?:(\d+) h\s?)?(?:(\d+)(?: min)? )?later"
)
# As the board calls a visit: its boat, its times and its work.
TIMES = r"\w{3} \d\d:\d\d(?:-| to )[\w: ]+?"


def part(hand: Hand, name: str | Pattern[str]) -> None:
    """Open a part beneath the board, by its heading: on a phone it is folded."""
    region = hand.page.get_by_role("region", name=name)
    if hand.width == PHONE and region.locator("details").count():
        hand.unfold(re.compile(r"\w"), within=name)


def snags(hand: Hand) -> None:
    """Open the snags behind the heaviest."""
    part(hand, re.compile(r"^(\d+ snags?|No snags found)"))


def visit(hand: Hand, boat: str, work: str) -> None:
    """Follow a boat's visit from the board to its Why, by some words of its work; on a phone her visits may be folded."""
    if hand.width == PHONE:
        block = hand.page.get_by_role("region", name=boat)
        if block.locator("details").count():
            hand.unfold(re.compile(r"visits?, |Her film"), within=boat)
    hand.go(called(hand, boat, work), within=boat if hand.width == PHONE else None)


def called(hand: Hand, boat: str, work: str) -> Pattern[str]:
    """Return how the board calls a boat's visit."""
    name = re.escape(work)
    return re.compile(name if hand.width == PHONE else f"^{re.escape(boat)}, .*{name}")


def visits(hand: Hand) -> list[tuple[str, str]]:
    """Return each visit to come by its boat and its work, in the board's order: which are planned is the planner's to say."""
    strips = hand.page.locator("svg.board a[aria-label]")
    labels = strips.evaluate_all("all => all.map(one => one.ariaLabel)")
    found = (re.match(rf"(.+?), {TIMES}: (.+)", one) for one in labels)
    return [(one[1], one[2]) for one in found if one]


def boats(hand: Hand, work: str) -> list[str]:
    """Return the boats with a visit of some work to come, in the board's order."""
    found = (boat for boat, done in visits(hand) if done.startswith(work))
    return list(dict.fromkeys(found))


def with_ways(hand: Hand) -> list[str]:
    """Return the boats that may be turned or covered, in the board's order."""
    links = hand.page.locator("svg.board a[aria-label$=': turn or cover her']")
    labels = links.evaluate_all("all => all.map(one => one.ariaLabel)")
    return [one.removesuffix(": turn or cover her") for one in labels]


def what_holds(hand: Hand, boat: str, work: str) -> None:
    """Go from the board to what holds a boat's visit, where it may be put elsewhere."""
    visit(hand, boat, work)
    hand.go(re.compile("What holds it there"))


def short(hand: Hand) -> list[tuple[str, str]]:
    """Return the short visits that are planned, by their boat and the first words of their work."""
    return [row for row in SHORT if row[0] in boats(hand, row[1])]


def with_room(hand: Hand) -> tuple[str, str]:
    """Go to what holds a visit that could start later as the week stands, a short one if there is one; return its boat and its work."""
    # The first words of a visit's work name it, among those of its boat.
    others = [(boat, re.split("[,.;(]", work)[0]) for boat, work in visits(hand)]
    for boat, work in dict.fromkeys((*short(hand), *reversed(others))):
        what_holds(hand, boat, work)
        found = LATER.search(hand.read())
        if found and int(found[1] or 0) * 60 + int(found[2] or 0) >= ROOM_MINUTES:
            return boat, work
        hand.open("/week/")
    raise AssertionError(f"No visit could start {ROOM_MINUTES} minutes later.")


def later(hand: Hand, minutes: int) -> str:
    """Return the clock some minutes after a visit's start, on the page of what holds it."""
    asked = hand.page.get_by_role("region", name="Put it elsewhere")
    hours, start = asked.get_by_label("Start").input_value().split(":")
    clock = int(hours) * 60 + int(start) + minutes
    return f"{clock // 60:02}:{clock % 60:02}"


def take(hand: Hand) -> None:
    """Take the draft; where it breaks a rule of the house, say why it may be so."""
    if hand.page.get_by_role("button", name="Post the week with this reason").count():
        hand.write(re.compile("^Why it may be so"), "The lead keeps the others off")
        hand.press("Post the week with this reason")
    else:
        hand.press("Take the draft: it stands")
    hand.see("this is what people are told", seconds=30)


def drafted(hand: Hand, says: str) -> None:
    """See the draft that a change by hand made, and what it changes against the week that stands."""
    hand.see(says, within="Changed by hand")
    hand.see(re.compile("What this draft changes|This draft changes no visit"))
    hand.see("Nobody is told before you post it")


def undone(hand: Hand) -> None:
    """Take every change by hand back, the last one first."""
    last = hand.page.locator("section.by-hand form").first
    while last.count():
        taken = last.get_attribute("action")
        hand.press("Undo it", within="Changed by hand")
        expect(hand.page.locator(f'form[action="{taken}"]')).to_have_count(0)
        hand.see("Taken back.")


def shifted(hand: Hand, boat: str, work: str, quarters: int) -> None:
    """Move a visit along the board by quarter hours: with Shift and an arrow, or dragged about as far."""
    link = hand.page.get_by_role("link", name=called(hand, boat, work))
    hand.how.reach(link)
    if hand.by == "keys":
        arrow = "Shift+ArrowRight" if quarters > 0 else "Shift+ArrowLeft"
        for _ in range(abs(quarters)):
            hand.how.strike(arrow)
        return
    box, mouse = link.locator("rect").first.bounding_box(), hand.page.mouse
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    mouse.move(x, y)
    mouse.down()
    mouse.move(x + quarters * QUARTER_PX, y, steps=5)
    mouse.up()


def answered(hand: Hand, words: str | Pattern[str]) -> str:
    """Wait until the board answers to a visit moved with words; return all it says, judged as a page."""
    told = hand.page.locator("#dropped")
    expect(told).to_contain_text(words, timeout=20_000)
    hand.judge()
    return " ".join(told.inner_text().split())
