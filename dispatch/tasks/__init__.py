"""Thin Celery tasks: the clock and slow work."""
