"""What plugins said jobs are to cost."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0026_down_gust"),
    ]

    operations = [
        migrations.CreateModel(
            name="ToldPrice",
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
                ("plugin", models.SlugField(blank=True, max_length=60)),
                (
                    "lines",
                    models.JSONField(default=list, help_text='[{"words", "cents"}].'),
                ),
                (
                    "asked",
                    models.CharField(
                        blank=True,
                        help_text="What was asked, as a digest.",
                        max_length=64,
                    ),
                ),
                ("told_at", models.DateTimeField(blank=True, null=True)),
                (
                    "fault",
                    models.TextField(
                        blank=True,
                        help_text="Why there is no newer answer; empty where there is.",
                    ),
                ),
                (
                    "job",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="told_price",
                        to="records.job",
                    ),
                ),
            ],
        ),
    ]
