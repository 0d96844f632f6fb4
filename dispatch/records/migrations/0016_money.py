"""Extras, payments and invoices of jobs."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0015_reply_number"),
    ]

    operations = [
        migrations.CreateModel(
            name="Extra",
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
                ("on", models.DateField()),
                ("words", models.CharField(max_length=120)),
                ("cents", models.IntegerField()),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="extras",
                        to="records.job",
                    ),
                ),
            ],
            options={
                "ordering": ("on", "id"),
            },
        ),
        migrations.CreateModel(
            name="Invoice",
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
                ("year", models.PositiveSmallIntegerField()),
                (
                    "number",
                    models.PositiveIntegerField(
                        help_text="Counts from 1 in every year."
                    ),
                ),
                ("issued_on", models.DateField()),
                ("due_on", models.DateField()),
                ("outfit", models.CharField(max_length=200)),
                ("customer", models.CharField(max_length=200)),
                ("boat", models.CharField(max_length=200)),
                (
                    "lines",
                    models.JSONField(help_text='[{"words", "cents"}], as they were.'),
                ),
                ("tax_pct", models.FloatField(default=0)),
                ("tax_cents", models.IntegerField(default=0)),
                ("total_cents", models.IntegerField()),
                ("paid_cents", models.IntegerField(default=0)),
                ("void", models.BooleanField(default=False)),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="invoices",
                        to="records.job",
                    ),
                ),
            ],
            options={
                "ordering": ("-year", "-number"),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("year", "number"), name="invoice_number_once_a_year"
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="Payment",
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
                ("on", models.DateField()),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("deposit", "Deposit"),
                            ("payment", "Payment"),
                            ("back", "Paid back"),
                        ],
                        max_length=8,
                    ),
                ),
                ("cents", models.IntegerField()),
                ("how", models.CharField(blank=True, max_length=60)),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="payments",
                        to="records.job",
                    ),
                ),
            ],
            options={
                "ordering": ("on", "id"),
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("cents__lt", 0), ("kind", "back")),
                            models.Q(
                                models.Q(("kind", "back"), _negated=True),
                                ("cents__gt", 0),
                            ),
                            _connector="OR",
                        ),
                        name="payment_has_its_sign",
                    )
                ],
            },
        ),
    ]
