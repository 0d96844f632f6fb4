"""A part of the board alone: what is promised, in doubt, wet, or where a van goes; and what stands beneath it."""

import pytest

from dispatch.actions import planning, show_board
from dispatch.web.owner import only
from tests.actions import plans
from tests.actions.test_moves import placed
from tests.web import people

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner(client):
    account = people.owner()
    client.force_login(account)
    return account


@pytest.fixture
def board(owner):
    plans.wash(plans.outfit())
    return show_board.board(placed())


def test_parts_that_have_a_boat_are_offered(board):
    found = {one.word: one.boats for one in only.choices(board, "")}
    assert found[""] == 1
    assert found["van-knot"] == 1
    assert "promised" not in found


def test_a_part_has_its_boats_alone(board):
    assert [row.boat for row in only.part(board, "van-knot").boats] == ["Second Wind"]
    assert only.part(board, "wet").boats == ()
    assert only.part(board, "no-such-part") is board


def test_the_page_shows_one_part_and_what_is_beneath(client, board, owner):
    told = client.get("/week/?only=van-knot").text
    assert 'aria-current="true">Knot' in told
    assert "Latest changes" in told
    answer = client.post("/week/2027-05-24/seen/", follow=True)
    assert "Changed since you last looked" in answer.text


def test_the_standing_week_says_whom_nobody_told(client, board, owner):
    planning.post(placed(), by=owner)
    told = client.get("/week/").text
    assert "Not told yet" in told
    assert "call by hand" in told


@pytest.mark.parametrize("make", [people.crew, people.nobodys])
@pytest.mark.parametrize("verb", ["seen", "still", "go-on", "rest", "take-in/j1"])
def test_nobody_else_changes_it(client, board, make, verb):
    client.force_login(make())
    assert client.post(f"/week/2027-05-24/{verb}/").status_code == 403
