"""The week's board read: the seven questions on its first screen, a part of it, the same in words, on paper."""

import re

import pytest

from tests.bench.walks.hand import Hand
from tests.bench.walks.week import PHONE, part

ASKED = {
    "Wet or setting": r"Nothing now; next .+, \w{3} \d\d:\d\d",
    "Spray slots": r"Best \w{3} \d\d:\d\d-\d\d:\d\d for .+; .+",
    "Promises": r"promised by \w{3} \d\d:\d\d|[Aa]ll kept, with time to spare",
    "Crew": r"\w+",
    "Stores": r"runs short|Nothing runs short this week",
    "Changed": r"Last Sun \d\d:\d\d by Orla Tarrow|Nothing since you last looked|\d+ since you looked",
    "Not told": r"\d+ visits?, \d+ to call by hand: first|\d+",
}
AT_A_GLANCE = "The week at a glance"


def test_the_seven_questions_are_answered_on_the_first_screen(board: Hand) -> None:
    shown = board.page.locator(".glance li")
    for name, says in ASKED.items():
        line = shown.filter(has=board.page.get_by_role("link", name=name, exact=True))
        box = line.bounding_box()
        assert box["y"] + box["height"] <= board.page.viewport_size["height"], name
        told = " ".join(line.locator("span").first.inner_text().split())
        assert re.search(says, told), f"{name}: {told}"


@pytest.mark.parametrize("name", ["Spray slots", "Promises", "Not told", "Stores"])
def test_an_answer_leads_to_what_tells_more(board: Hand, name: str) -> None:
    board.go(name, within=AT_A_GLANCE)
    board.page.wait_for_timeout(300)
    assert (
        "#" in board.page.url
        or "only=" in board.page.url
        or "/week/" not in board.page.url
    )


@pytest.mark.parametrize("part", ["Promised", "Sky in doubt", "Plover"])
def test_a_part_of_the_boats_is_shown(board: Hand, part: str) -> None:
    board.go(re.compile(f"^{part}"), within="Boats shown")
    here = board.page.get_by_role("navigation", name="Boats shown").locator(
        "[aria-current]"
    )
    assert here.inner_text().startswith(part)
    board.go(re.compile("^All boats"), within="Boats shown")


def test_the_board_is_told_in_words(board: Hand) -> None:
    board.unfold("Every strip, van, person, trailer and product as text")
    board.see("Maintenance wash", within="The board in words")
    board.judge()


def test_what_gives_way_first_is_told(board: Hand) -> None:
    board.unfold(re.compile("in order, the first to give way first"))
    board.see("Protected first: wet film")


def test_it_is_printed(board: Hand) -> None:
    page = board.page
    page.emulate_media(media="print")
    left = page.locator("form:visible, nav:visible, button:visible").count()
    page.emulate_media(media="screen")
    assert left == 0, f"{left} things to press stand on paper"


def test_whose_messages_were_seen_is_kept(board: Hand) -> None:
    news = re.compile("^Changed since|^Latest changes")
    if board.page.get_by_role("region", name=news).locator("form").count():
        part(board, news)
        board.press("I have seen these")
    board.see("Changed since you last looked")
    if board.width == PHONE:
        board.see(re.compile("Nothing"))
