"""Why a stage is where it is, why not sooner, why it is left out, why not at all: with numbers and sources."""

import re

from tests.bench.walks.hand import Hand
from tests.bench.walks.week import visit, what_holds


def test_why_a_coat_is_there(owner: Hand) -> None:
    visit(owner, "Curlew", "Spray port")
    owner.see(re.compile(r"The standing week has it \w{3} \d\d:\d\d"))
    numbers = "The numbers of its planned hours"
    owner.see(
        re.compile(r"Hull above the dew point \d+ °F at least 5 °F kept"),
        within=numbers,
    )
    owner.see("The sheet of Lanternglass One", within=numbers)
    owner.see(re.compile(r"Rain-safe about \w{3} \d\d:\d\d, from \w{3} \d\d:\d\d to"))


def test_why_not_sooner_and_what_another_day_costs(owner: Hand) -> None:
    what_holds(owner, "Kittiwake", "Maintenance wash")
    owner.see(re.compile(r"it could start .+ sooner or .+ later"))
    owner.see(
        re.compile(r"Allows|This binds"), within="What keeps it from starting sooner"
    )
    owner.see(
        re.compile(r"Its window closes at \w{3} \d\d:\d\d, and it takes \d+ minutes")
    )
    owner.press("Price every day")
    owner.see(re.compile(r"\$\d"), within="On another day", seconds=40)


def test_why_not_at_other_hours(owner: Hand) -> None:
    visit(owner, "Curlew", "Spray port")
    day = re.compile("^Wednesday 26 May$")
    owner.see(
        re.compile(r"needs at least 55 °F|needs 2 h 30|needs a chance below 40 %"),
        within=day,
    )
    owner.see("The owner may overrule it, with a reason", within=day)
    owner.see("Nobody may overrule it", within=day)
    owner.see("MIL-HDBK-1110")


def test_why_a_boat_is_left_out(owner: Hand) -> None:
    owner.see("Left out of this week")
    owner.see("Each reason once")
    left = owner.page.locator(".left-out li").first
    assert re.search(r"\d", left.inner_text()), "a reason without a number"
    owner.go(
        left.get_by_role("link").first.inner_text(), within="Left out of this week"
    )
    owner.see("Left out.")
    owner.see("Hours it may be done in")
    owner.go(re.compile("Back to the week"))
    owner.see("Standing since")
