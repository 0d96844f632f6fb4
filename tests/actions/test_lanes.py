"""A lane's worker does the work of its lane alone, so that what is slow in one holds up nothing in another."""

import pytest

from dispatch.actions import due, sweeping
from dispatch.records.models import DueWork

pytestmark = pytest.mark.django_db


def left() -> set[str]:
    return set(DueWork.objects.filter(done_at=None).values_list("verb", flat=True))


def test_each_lane_leaves_the_others_work_alone():
    for verb in ("build-week", "judge-stage", "write-feeds"):
        due.put(verb, "999")
    assert sweeping.sweep("weather") == 1
    assert left() == {"build-week", "write-feeds"}
    assert sweeping.sweep("rest") == 1
    assert left() == {"build-week"}
    assert sweeping.sweep("search") == 1
    assert left() == set()


def test_without_a_lane_all_of_it_is_done():
    for verb in ("build-week", "judge-stage", "write-feeds"):
        due.put(verb, "999")
    assert sweeping.sweep() == 3
