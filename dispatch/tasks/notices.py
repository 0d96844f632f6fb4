"""Messages that are due."""

from celery import shared_task

from dispatch.actions import telling


@shared_task
def drain() -> int:
    return telling.drain()
