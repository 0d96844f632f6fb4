"""When the cans of a product were last counted by hand."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0018_judged_answered_at"),
    ]

    operations = [
        migrations.AddField(
            model_name="sheet",
            name="counted_at",
            field=models.DateTimeField(
                blank=True,
                help_text="When its cans were last counted by hand.",
                null=True,
            ),
        ),
    ]
