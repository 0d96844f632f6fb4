"""Slow work that actions left behind."""

from celery import shared_task

from dispatch.actions import sweeping


@shared_task
def sweep() -> int:
    return sweeping.sweep()
