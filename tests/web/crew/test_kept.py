"""What keeps the crew's day on the phone."""

import pytest

from tests.actions import posted
from tests.web import people

pytestmark = pytest.mark.django_db


def test_the_worker_is_script_that_a_browser_looks_at_anew(client):
    """Service Workers (W3C), 7.2: a script of a JavaScript type, whose address bounds what it may keep."""
    answer = client.get("/route/worker.js")
    assert answer["Content-Type"] == "text/javascript; charset=utf-8"
    assert answer["Cache-Control"] == "no-cache"
    assert "caches.delete(KEPT)" in answer.text


def test_the_page_says_whose_it_is_and_as_of_when(client):
    rook = people.crew()
    posted.visit(posted.van_day(rook.person), posted.sprayed().stages.first(), "11:00", 60)  # fmt: skip
    posted.stand("11:10")
    client.force_login(rook)
    told = client.get("/route/").text
    assert 'data-who="rook" data-as-of="Mon 11:10" hidden' in told
    assert 'data-zone="America/New_York"' in told
