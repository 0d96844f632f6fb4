"""Drives between places, asked for by the clock: a place may have come or moved."""

from celery import shared_task

from dispatch.actions import drives


@shared_task
def ask() -> None:
    drives.later()
