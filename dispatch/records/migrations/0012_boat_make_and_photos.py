"""A boat's maker and model, and photos of her."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("records", "0011_sky_by_hand")]

    operations = [
        migrations.AddField(
            model_name="boat",
            name="make",
            field=models.CharField(
                blank=True,
                help_text="Her maker and model, as people call it.",
                max_length=80,
            ),
        ),
        migrations.CreateModel(
            name="Photo",
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
                ("file", models.CharField(max_length=60, unique=True)),
                (
                    "kind",
                    models.CharField(
                        choices=[("jpeg", "JPEG"), ("png", "PNG"), ("webp", "WebP")],
                        max_length=8,
                    ),
                ),
                ("size_bytes", models.PositiveIntegerField()),
                ("words", models.CharField(blank=True, max_length=120)),
                ("taken_at", models.DateTimeField()),
                (
                    "boat",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="photos",
                        to="records.boat",
                    ),
                ),
            ],
            options={"ordering": ("-taken_at", "-id")},
        ),
    ]
