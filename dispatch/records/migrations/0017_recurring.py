"""Work that comes again."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0016_money"),
    ]

    operations = [
        migrations.CreateModel(
            name="Recurring",
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
                ("every_days", models.PositiveSmallIntegerField()),
                (
                    "slack_days",
                    models.PositiveSmallIntegerField(
                        default=3, help_text="Days before and after that are as good."
                    ),
                ),
                ("next_on", models.DateField()),
                ("grade", models.PositiveSmallIntegerField(default=1)),
                ("price_cents", models.PositiveIntegerField(default=0)),
                ("active", models.BooleanField(default=True)),
                (
                    "boat",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="recurring",
                        to="records.boat",
                    ),
                ),
                (
                    "kind",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.jobkind",
                    ),
                ),
            ],
            options={
                "ordering": ("next_on", "id"),
            },
        ),
        migrations.AddField(
            model_name="job",
            name="recurring",
            field=models.ForeignKey(
                blank=True,
                help_text="What it came of, where it comes again and again.",
                null=True,
                on_delete=django.db.models.deletion.SET_NULL,
                related_name="jobs",
                to="records.recurring",
            ),
        ),
        migrations.AddConstraint(
            model_name="recurring",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("every_days__gte", 2), ("slack_days__lt", models.F("every_days"))
                ),
                name="recurring_slack_under_its_days",
            ),
        ),
        migrations.AddConstraint(
            model_name="recurring",
            constraint=models.CheckConstraint(
                condition=models.Q(("grade__gte", 1), ("grade__lte", 4)),
                name="recurring_grade_1_to_4",
            ),
        ),
    ]
