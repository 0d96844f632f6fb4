"""Slow work: asked for once, never done twice at the same time, and never by older facts than those it was asked for."""

from datetime import timedelta

import pytest
from django.utils import timezone

from dispatch.actions import due
from dispatch.records.models import DueWork

pytestmark = pytest.mark.django_db
SOON = timedelta(minutes=5)


def claimed():
    """The first of what is due, claimed."""
    return next(due.claim(), None)


def test_the_same_that_waits_is_not_added_twice():
    due.put("judge-stage", "1")
    due.put("judge-stage", "1")
    due.put("judge-stage", "2")
    assert DueWork.objects.count() == 2


def test_what_waits_for_later_is_due_as_soon_as_it_is_asked_for_sooner():
    due.put("ask-plugin-again", "weather", due_at=timezone.now() + SOON)
    assert claimed() is None
    due.put("ask-plugin-again", "weather")
    assert claimed().key == "weather"


def test_asking_for_later_puts_nothing_off():
    due.put("ask-plugin-again", "weather")
    due.put("ask-plugin-again", "weather", due_at=timezone.now() + SOON)
    assert claimed().key == "weather"


def test_what_is_asked_for_while_it_is_under_way_is_done_again_after_it():
    due.put("judge-stage", "1")
    first = claimed()
    due.put("judge-stage", "1")
    assert claimed() is None, "two at once would end with the older answer"
    due.settle(first)
    second = claimed()
    assert second.pk != first.pk
    due.settle(second)
    assert claimed() is None


def test_other_work_goes_on_meanwhile():
    due.put("judge-stage", "1")
    claimed()
    due.put("judge-stage", "1")
    due.put("judge-stage", "2")
    assert claimed().key == "2"


def test_what_failed_and_waits_for_another_try_holds_up_no_new_asking():
    due.put("judge-stage", "1")
    due.settle(claimed(), "No answer.")
    due.put("judge-stage", "1")
    assert claimed().key == "1"


def test_what_a_lost_worker_holds_is_taken_up_by_another():
    due.put("judge-stage", "1")
    lost = claimed()
    due.put("judge-stage", "1")
    DueWork.objects.filter(pk=lost.pk).update(claimed_at=timezone.now() - SOON)
    assert claimed().pk == lost.pk
    assert claimed() is None
