"""Asking for all forecasts is at its end once the board is judged by what came, not before."""

import pytest

from dispatch.actions import ask_sky, due, sweeping
from dispatch.records.models import DueWork
from tests.actions import plans

pytestmark = pytest.mark.django_db


def test_it_is_still_at_work_while_stages_wait_to_be_judged():
    plans.coat(plans.outfit())
    ask_sky.soon(by=plans.owner())
    assert not ask_sky.standing().begun
    row = next(due.claim({ask_sky.VERB}))
    sweeping._do(row)
    due.settle(row)
    waiting = DueWork.objects.filter(verb="judge-stage", done_at__isnull=True).count()
    assert waiting
    asking = ask_sky.standing()
    assert asking.since
    assert asking.begun
    assert asking.to_judge >= waiting
    sweeping.sweep("weather")
    asking = ask_sky.standing()
    assert asking.since is None
    assert "Marrow Road" in asking.said
