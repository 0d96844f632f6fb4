"""Each boat and when her stages may be done, told in words; the demo's own are told in `tests/journeys/test_demo_week.py`."""

import pytest

from dispatch.actions import outlook
from dispatch.records.models import Judged
from tests.actions import plans

pytestmark = pytest.mark.django_db


def test_every_stage_is_told_with_its_hours_or_that_nobody_judged_it():
    job = plans.coat(plans.outfit())
    heading, *said = outlook.lines()
    assert heading == "Second Wind: Full spray coat, Marrow Road"
    assert len(said) == job.stages.count()
    assert not any("not judged" in line for line in said)
    assert any("Spray starboard" in line and "Fri 15:" in line for line in said)
    Judged.objects.filter(stage__key="mask").delete()
    (unknown,) = [line for line in outlook.lines() if "not this week" in line]
    assert unknown == "  Mask and drape: not this week: not judged yet, so unknown"
