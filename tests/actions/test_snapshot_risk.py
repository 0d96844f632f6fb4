"""What a sprayed visit late in its hours may cost in a week problem, against what the board calls too tight."""

from datetime import timedelta
from itertools import pairwise

import pytest

from dispatch.actions import show_board, snapshot
from dispatch.records.models import Week
from tests.actions import plans

pytestmark = pytest.mark.django_db
PORT, MASK = "j1.port-as-she-lies", "j1.mask"
TUESDAY = 1


@pytest.fixture
def job():
    return plans.coat(plans.outfit())


@pytest.fixture
def problem(job):
    return snapshot.of(Week.objects.create(starts_on=plans.MONDAY))


def row(problem, name):
    return next(one for one in problem["stages"] if one["id"] == name)


def tuesday(problem):
    """The dear starts of her port side on Tuesday."""
    start, end = problem["days"][TUESDAY]
    return [one for one in row(problem, PORT)["risk"] if start <= one[0] < end]


def tight(start, took):
    """Whether the board finds her port side too tight, begun at that moment."""
    end = start + timedelta(minutes=took)
    draft = plans.draft([(25, "06:30", "20:30", [(PORT, f"{start:%H:%M}", f"{end:%H:%M}")])])  # fmt: skip
    found = [s for s in show_board.board(draft).snags if s.about == f"spare:{PORT}"]
    draft.delete()
    return bool(found)


def test_it_is_dear_from_the_minute_at_which_the_board_calls_it_tight(problem):
    took = min(row(problem, PORT)["minutes"].values())
    first = tuesday(problem)[0][0] - problem["days"][TUESDAY][0]
    dear = plans.at(25, "00:00") + timedelta(minutes=first)
    assert tight(dear + timedelta(minutes=1), took)
    assert not tight(dear - timedelta(minutes=1), took)


def test_each_quarter_of_an_hour_is_dearer_by_a_third_of_what_none_to_spare_costs(problem):  # fmt: skip
    """$80 with none of 45 minutes to spare."""
    rows = tuesday(problem)
    assert [cents for *_, cents in rows] == [round(8000 * (k + 1) / 3) for k in range(len(rows))]  # fmt: skip
    assert all(a[1] == b[0] for a, b in pairwise(rows))


def test_work_that_lays_no_film_costs_no_more_late_in_its_hours(problem):
    assert row(problem, MASK)["risk"] == []
