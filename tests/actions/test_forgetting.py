"""What holds no history is forgotten after thirty days; what somebody may still ask after stays."""

from datetime import timedelta

import pytest
from django.utils import timezone

from dispatch.actions import due, forgetting, taken_once
from dispatch.config import celery
from dispatch.records.models import (
    CrewReport,
    DueWork,
    Forecast,
    ForecastHour,
    Outfit,
    Post,
)
from dispatch.tasks import forgetting as task
from tests.actions import posted, shop

pytestmark = pytest.mark.django_db
OLD, YOUNG = timedelta(days=31), timedelta(days=29)


def work(key: str, ago: timedelta | None, fault: str = "") -> None:
    due.put("refigure-job", key)
    (row,) = due.claim(["refigure-job"])
    done_at = timezone.now() - ago if ago else None
    DueWork.objects.filter(pk=row.pk).update(done_at=done_at, fault=fault)


def keys() -> list[str]:
    return list(DueWork.objects.order_by("pk").values_list("key", flat=True))


def test_work_that_is_done_is_forgotten_and_what_waits_or_is_young_is_not():
    work("old", OLD)
    work("young", YOUNG)
    due.put("refigure-job", "waits")
    DueWork.objects.filter(key="waits").update(due_at=timezone.now() - OLD)
    assert forgetting.old() == 1
    assert keys() == ["young", "waits"]


def test_work_that_was_given_up_stays_till_the_same_is_done():
    work("j1", OLD, "It failed.")
    forgetting.old()
    assert keys() == ["j1"]
    work("j1", YOUNG)
    forgetting.old()
    assert [row.fault for row in DueWork.objects.all()] == [""]


def test_work_done_since_is_never_forgotten_before_what_was_given_up():
    """Else what was given up would be shown as if it still were."""
    work("j1", OLD + OLD, "It failed.")
    work("j1", OLD)
    assert forgetting.old() == 2


@pytest.fixture
def rook():
    shop.outfit()
    return posted.person("rook")


def test_a_phone_s_word_is_forgotten_long_after_it_may_be_sent_again(rook):
    taken = []
    for word, ago in (("old", OLD), ("young", YOUNG)):
        taken_once.report(word, rook, lambda word=word: taken.append(word))
        CrewReport.objects.filter(word=word).update(came_at=shop.NOW - ago)
    assert forgetting.old() == 1
    assert [row.word for row in CrewReport.objects.all()] == ["young"]
    taken_once.report("young", rook, lambda: taken.append("again"))
    assert taken == ["old", "young"]


def test_a_phone_s_word_ages_by_the_outfit_s_clock(rook):
    taken_once.report("one", rook, lambda: None)
    assert forgetting.old() == 0
    Outfit.objects.update(stands_at=shop.NOW + OLD)
    assert forgetting.old() == 1


def test_posts_that_were_read_are_forgotten_and_those_that_were_not_stay():
    now = timezone.now()
    for name, heard in (("old", now - OLD), ("young", now - YOUNG), ("unread", None)):
        Post.objects.create(
            plugin="p", signature=name, received_at=now - OLD, body="", heard_at=heard
        )
    assert forgetting.old() == 1
    assert set(Post.objects.values_list("signature", flat=True)) == {"young", "unread"}


def test_forecasts_that_newer_ones_followed_are_forgotten_with_their_hours():
    shop.outfit()
    place = shop.driveway()
    for source, ago in (("a", OLD + OLD), ("b", OLD), ("a", YOUNG)):
        made = posted.warm(place, issued=shop.NOW - ago, hours=1)
        Forecast.objects.filter(pk=made.pk).update(source=source)
    assert forgetting.old() == 4
    assert [row.forecast.issued_at for row in ForecastHour.objects.all()] == [
        shop.NOW - YOUNG
    ]


def test_a_place_s_newest_forecast_stays_however_old_it_is():
    """It says how old the sky is known to be; a place without any was never asked about."""
    shop.outfit()
    place = shop.driveway()
    for ago in (OLD + OLD, OLD):
        posted.warm(place, issued=shop.NOW - ago, hours=1)
    forgetting.old()
    assert [row.issued_at for row in Forecast.objects.all()] == [shop.NOW - OLD]


def test_the_clock_does_it():
    work("old", OLD)
    entry = celery.TIMETABLE["forgetting"]
    assert entry["task"] == task.old.name
    assert task.old() == 1
