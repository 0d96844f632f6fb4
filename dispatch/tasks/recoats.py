"""Second coats that may no longer follow, looked for by the clock."""

from celery import shared_task

from dispatch.actions import laid_anew


@shared_task
def check() -> int:
    return laid_anew.check()
