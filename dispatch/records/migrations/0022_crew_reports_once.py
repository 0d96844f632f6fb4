"""Each report of a phone, taken once."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0021_invoices_say_whose"),
    ]

    operations = [
        migrations.CreateModel(
            name="CrewReport",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True,
                        primary_key=True,
                        serialize=False,
                        verbose_name="ID",
                    ),
                ),
                ("word", models.CharField(max_length=60)),
                ("came_at", models.DateTimeField()),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="+",
                        to="records.person",
                    ),
                ),
            ],
            options={
                "ordering": ("came_at", "id"),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("person", "word"), name="crew_report_taken_once"
                    )
                ],
            },
        ),
    ]
