"""The sky, asked for by the clock."""

from celery import shared_task

from dispatch.actions import old_sky, weather


@shared_task
def ask() -> int:
    return weather.ask_later()


@shared_task
def look_at_age() -> int:
    """Forecasts that grow old because nothing newer comes."""
    return old_sky.look()
