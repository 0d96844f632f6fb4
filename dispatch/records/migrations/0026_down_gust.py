"""The gust at which a roof must be down."""

from django.db import migrations, models
from django.db.models import Q


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0025_care_words"),
    ]

    operations = [
        migrations.AddField(
            model_name="equipment",
            name="down_gust_ms",
            field=models.FloatField(
                blank=True,
                help_text="The gust at which its maker wants a roof down; null where nobody was told.",
                null=True,
            ),
        ),
        migrations.AddConstraint(
            model_name="equipment",
            constraint=models.CheckConstraint(
                condition=Q(down_gust_ms__isnull=True) | Q(down_gust_ms__gt=0),
                name="equipment_down_at_a_gust",
            ),
        ),
    ]
