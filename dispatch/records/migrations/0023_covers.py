"""Covers that are pulled over film that is wet."""

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0022_crew_reports_once"),
    ]

    operations = [
        migrations.CreateModel(
            name="Cover",
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
                ("by_when", models.DateTimeField(blank=True, null=True)),
                ("asked_at", models.DateTimeField()),
                ("on_at", models.DateTimeField(blank=True, null=True)),
                ("off_at", models.DateTimeField(blank=True, null=True)),
                (
                    "asked_by",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "equipment",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.equipment",
                    ),
                ),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="covers",
                        to="records.job",
                    ),
                ),
            ],
            options={
                "ordering": ("asked_at",),
                "constraints": [
                    models.UniqueConstraint(
                        condition=models.Q(("off_at__isnull", True)),
                        fields=("job",),
                        name="cover_one_over_a_boat",
                    ),
                    models.UniqueConstraint(
                        condition=models.Q(("off_at__isnull", True)),
                        fields=("equipment",),
                        name="cover_one_boat_under_a_roof",
                    ),
                ],
            },
        ),
    ]
