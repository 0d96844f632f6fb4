"""Where cans are kept: in a van or at a place."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0033_wettings"),
    ]

    operations = [
        migrations.AddField(
            model_name="can",
            name="place",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.SET_NULL,
                related_name="cans",
                to="records.place",
            ),
        ),
        migrations.AddField(
            model_name="can",
            name="van",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.SET_NULL,
                related_name="cans",
                to="records.van",
            ),
        ),
        migrations.AddConstraint(
            model_name="can",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("van__isnull", True), ("place__isnull", True), _connector="OR"
                ),
                name="can_in_one_place",
            ),
        ),
    ]
