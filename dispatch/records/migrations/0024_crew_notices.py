"""Messages to the crew: consent and STOP of a person, a message to a customer or to a person."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0023_covers"),
    ]

    operations = [
        migrations.AddField(
            model_name="notice",
            name="person",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.CASCADE,
                related_name="notices",
                to="records.person",
            ),
        ),
        migrations.AddField(
            model_name="person",
            name="email_consent",
            field=models.BooleanField(default=False),
        ),
        migrations.AddField(
            model_name="person",
            name="text_consent",
            field=models.BooleanField(default=False),
        ),
        migrations.AddField(
            model_name="person",
            name="text_stopped_at",
            field=models.DateTimeField(
                blank=True, help_text="When STOP came in; no texts since.", null=True
            ),
        ),
        migrations.AddField(
            model_name="reply",
            name="person",
            field=models.ForeignKey(
                null=True,
                on_delete=django.db.models.deletion.SET_NULL,
                related_name="replies",
                to="records.person",
            ),
        ),
        migrations.AlterField(
            model_name="notice",
            name="customer",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.CASCADE,
                related_name="notices",
                to="records.customer",
            ),
        ),
        migrations.AddConstraint(
            model_name="notice",
            constraint=models.UniqueConstraint(
                fields=("reason", "fact", "version", "person", "channel"),
                name="notice_one_fact_once_a_person",
            ),
        ),
        migrations.AddConstraint(
            model_name="notice",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("customer__isnull", False), ("person__isnull", True)),
                    models.Q(("customer__isnull", True), ("person__isnull", False)),
                    _connector="OR",
                ),
                name="notice_to_one",
            ),
        ),
    ]
