"""The sky, asked for by the clock."""

from celery import shared_task

from dispatch.actions import weather


@shared_task
def ask() -> int:
    return weather.ask_later()
