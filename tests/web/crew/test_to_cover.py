"""What the crew reads of a boat that is to be covered: till when, with what, and when that must come down again."""

import pytest

from dispatch.records.models import Equipment
from dispatch.web.crew import to_cover
from tests.actions import test_struck

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
loft = test_struck.loft


def test_the_crew_reads_when_the_roof_must_come_down_or_that_nobody_knows(loft):
    test_struck.sky("15:00", rain_mm=2, rain_prob_pct=90)
    test_struck.ask("loft")
    ((_, says, gust),) = to_cover.lines()
    assert says == "at Marrow Road by Sat 14:45, with Loft. Touch no film"
    assert gust == f"Loft {test_struck.DOWN}"
    Equipment.objects.update(down_gust_ms=None)
    ((_, _, gust),) = to_cover.lines()
    assert gust.startswith("at which gust Loft must be down nobody has entered")
