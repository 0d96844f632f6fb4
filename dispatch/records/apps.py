"""The Django app that holds every table."""

from django.apps import AppConfig


class RecordsConfig(AppConfig):
    """All tables of the house, in one chain of migrations."""

    name = "dispatch.records"
    label = "records"
    verbose_name = "Records"
    default_auto_field = "django.db.models.BigAutoField"
