"""Crews that could not get to a boat."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0035_amounts_as_written"),
    ]

    operations = [
        migrations.CreateModel(
            name="ShutOut",
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
                ("since", models.DateTimeField()),
                ("until", models.DateTimeField()),
                ("left_at", models.DateTimeField(blank=True, null=True)),
                ("over_at", models.DateTimeField(blank=True, null=True)),
                (
                    "fee",
                    models.OneToOneField(
                        blank=True,
                        help_text="What the owner put on the job for having come in vain.",
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="shut_out",
                        to="records.extra",
                    ),
                ),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="shut_outs",
                        to="records.job",
                    ),
                ),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.person",
                    ),
                ),
                (
                    "photos",
                    models.ManyToManyField(
                        related_name="shut_outs", to="records.photo"
                    ),
                ),
                (
                    "stage",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="shut_outs",
                        to="records.stage",
                    ),
                ),
            ],
            options={
                "ordering": ("since", "id"),
                "constraints": [
                    models.UniqueConstraint(
                        condition=models.Q(("over_at__isnull", True)),
                        fields=("job",),
                        name="shut_out_one_a_job",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("until__gt", models.F("since"))),
                        name="shut_out_waits",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("left_at__isnull", True),
                            ("left_at__gte", models.F("since")),
                            _connector="OR",
                        ),
                        name="shut_out_left_after_it_came",
                    ),
                ],
            },
        ),
    ]
