"""Settings, urls and Celery: the meter cupboard. Importing it makes the task app current."""

from dispatch.config.celery import app as celery_app

__all__ = ["celery_app"]
