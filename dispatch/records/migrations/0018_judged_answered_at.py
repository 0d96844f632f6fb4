"""When the answer of a plugin that stands was given: it outlives later failures."""

from django.apps.registry import Apps
from django.db import migrations, models
from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.db.models import F


def as_judged(apps: Apps, _editor: BaseDatabaseSchemaEditor) -> None:
    """What stands without a fault was answered when it was judged."""
    judged = apps.get_model("records", "Judged")
    judged.objects.filter(fault="").update(answered_at=F("at"))


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0017_recurring"),
    ]

    operations = [
        migrations.AddField(
            model_name="judged",
            name="answered_at",
            field=models.DateTimeField(
                help_text="When the answer that stands was given; none where there is none.",
                null=True,
            ),
        ),
        migrations.RunPython(as_judged, migrations.RunPython.noop),
    ]
