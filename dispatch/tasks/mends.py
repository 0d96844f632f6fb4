"""Mends of standing weeks that are not priced yet, or not lately, looked for by the clock."""

from celery import shared_task

from dispatch.actions import mends


@shared_task
def look() -> int:
    return mends.look()
