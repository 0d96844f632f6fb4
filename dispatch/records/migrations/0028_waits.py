"""What a boat is left for inside a visit, and what may be done meanwhile."""

from django.apps.registry import Apps
from django.db import migrations, models
from django.db.backends.base.schema import BaseDatabaseSchemaEditor

_GONE = ("limits.planning_flash_minutes",)
_LEFT = (
    ("spray-coat", "Wash and rinse", {"hold_minutes": 30}),
    ("spray-coat", "Strip decals and numbers, lift ghosts", {"meanwhile": True}),
    (
        "spray-coat",
        "Deoxidise, scrub and rinse",
        {"hold_minutes": 45, "meanwhile": True},
    ),
    ("interior", "Wash vinyl and liner", {"hold_minutes": 120}),
    ("interior", "Mildew pass", {"hold_minutes": 30}),
    ("interior", "Stainless", {"meanwhile": True}),
)


def fill(apps: Apps, _editor: BaseDatabaseSchemaEditor) -> None:
    """Give a catalogue of before the waits it had none for, and forget the wait that is no setting any more."""
    rows = apps.get_model("records", "CatalogueRow").objects
    for kind, name, values in _LEFT:
        rows.filter(kind__key=kind, name=name).update(**values)
    apps.get_model("records", "Setting").objects.filter(name__in=_GONE).delete()


class Migration(migrations.Migration):
    dependencies = [("records", "0027_told_prices")]

    operations = [
        migrations.AddField(
            model_name="cataloguerow",
            name="hold_minutes",
            field=models.FloatField(
                default=0,
                help_text="Minutes the boat is left after it, as to dry, by all but what may be done meanwhile.",
            ),
        ),
        migrations.AddField(
            model_name="cataloguerow",
            name="meanwhile",
            field=models.BooleanField(
                default=False,
                help_text="May be done while she dries or a fill kicks from a step before it.",
            ),
        ),
        migrations.AlterField(
            model_name="stage",
            name="minutes",
            field=models.JSONField(
                default=dict,
                help_text='Minutes of hands on by team size: {"2": 130}; waits not counted.',
            ),
        ),
        migrations.AlterField(
            model_name="stage",
            name="steps",
            field=models.JSONField(
                default=list,
                help_text='The catalogue rows in it: [{"name", "labour_minutes"}], with what is left and waited for where one holds.',
            ),
        ),
        migrations.RunPython(fill, migrations.RunPython.noop),
    ]
