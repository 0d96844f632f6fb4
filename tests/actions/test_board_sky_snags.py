"""Many visits whose sky is not known make one snag, so that they hide no other."""

import pytest

from dispatch.actions import show_board, weather
from dispatch.records.models import Judged, WeekPlan
from tests.actions import plans
from tests.web.owner import test_statements

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]


@pytest.mark.parametrize(("boats", "snags"), [(2, 2), (5, 1)])
def test_one_reason_is_one_sentence_once_it_holds_for_many(boats, snags):
    place = plans.outfit()
    test_statements.fleet(0, boats)
    weather.take_in(place)
    test_statements.week()
    Judged.objects.all().delete()
    board = show_board.board(WeekPlan.objects.get())
    found = [s for s in board.snags if "is not known" in s.sentence]
    assert len(found) == snags
    assert all(s.does == "forecasts" and s.stage for s in found)
    told = found[0].sentence
    assert ("The sky of 5 visits is not known" in told) == (boats == 5)
    assert "a go" in told
