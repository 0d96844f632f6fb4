"""Rows that are old, forgotten by the clock."""

from celery import shared_task

from dispatch.actions import forgetting


@shared_task
def old() -> int:
    return forgetting.old()
