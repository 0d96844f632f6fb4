"""Jobs priced by plugins, asked for by the clock: one may have failed, or a boat or a rate may be another."""

from celery import shared_task

from dispatch.actions import asked_prices


@shared_task
def ask() -> None:
    asked_prices.all_later()
