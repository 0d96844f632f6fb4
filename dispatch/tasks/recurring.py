"""Work that comes again, taken into the book by the clock."""

from celery import shared_task

from dispatch.actions import recurring


@shared_task
def check() -> int:
    return recurring.check()
