"""Forget what was set of numbers that nothing was reckoned with."""

from django.apps.registry import Apps
from django.db import migrations
from django.db.backends.base.schema import BaseDatabaseSchemaEditor

_GONE = ("coverage.rail_width_ft", "labour.staging")


def forget(apps: Apps, _editor: BaseDatabaseSchemaEditor) -> None:
    """Delete their values; the history keeps who set them."""
    apps.get_model("records", "Setting").objects.filter(name__in=_GONE).delete()


class Migration(migrations.Migration):
    dependencies = [("records", "0030_let_in")]

    operations = [migrations.RunPython(forget, migrations.RunPython.noop)]
