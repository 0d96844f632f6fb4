"""Why a stage is where it is, why not sooner, why it is left out, why not at all: with numbers and sources."""

import re

from tests.bench.walks.hand import Hand
from tests.bench.walks.week import boats, part, visit, what_holds

COAT = "Spray port"


def test_why_a_coat_is_there(board: Hand) -> None:
    visit(board, boats(board, COAT)[0], COAT)
    board.see(re.compile(r"The standing week has it \w{3} \d\d:\d\d"))
    numbers = "The numbers of its planned hours"
    board.see(
        re.compile(
            r"Hull above the dew point \d+ °F(?: to \d+ °F)? at least 5 °F kept"
        ),
        within=numbers,
    )
    board.see(re.compile(r"The sheet of \w+"), within=numbers)
    board.see(re.compile(r"Rain-safe about \w{3} \d\d:\d\d, from \w{3} \d\d:\d\d to"))


def test_why_not_sooner_and_what_another_day_costs(board: Hand) -> None:
    what_holds(board, "Kittiwake", "Maintenance wash")
    board.see(re.compile(r"it could start (.+ (sooner|later)|neither)"))
    board.see(
        re.compile(r"Allows|This binds"), within="What keeps it from starting sooner"
    )
    board.see(
        re.compile(r"Its window closes \w{3} \d\d:\d\d, and it takes \d+ minutes")
    )
    board.press("Price every day")
    board.see(re.compile(r"\$\d"), within="On another day")


def test_why_not_at_other_hours(board: Hand) -> None:
    visit(board, boats(board, COAT)[0], COAT)
    day = re.compile("^Wednesday 26 May$")
    part(board, day)
    # Under a roof rain does not bind her, so which limit does depends on how the plan has her.
    board.see(re.compile(r"needs (at (least|most) )?\d+"), within=day)
    board.see(re.compile("(Nobody|The owner) may overrule it"), within=day)
    board.see(re.compile("The product.s sheet|MIL-HDBK-1110"), within=day)


def test_why_a_boat_is_left_out(board: Hand) -> None:
    board.see("Left out of this week")
    part(board, "Left out of this week")
    board.see("Each reason once")
    left = board.page.locator(".left-out li").first
    assert re.search(r"\d", left.inner_text()), "a reason without a number"
    board.go(
        left.get_by_role("link").first.inner_text(), within="Left out of this week"
    )
    board.see("Left out.")
    board.see("Hours it may be done in")
    board.go(re.compile("Back to the week"))
    board.see("Standing since")
