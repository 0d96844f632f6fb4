"""Slow work that actions left behind, by lanes, so that a search or a source that hangs holds up nothing else."""

from celery import shared_task

from dispatch.actions import sweeping


@shared_task
def sweep() -> int:
    """Whatever is due."""
    return sweeping.sweep()


@shared_task
def search() -> int:
    return sweeping.sweep("search")


@shared_task
def weather() -> int:
    return sweeping.sweep("weather")


@shared_task
def rest() -> int:
    return sweeping.sweep("rest")


LANES = (search, weather, rest)
