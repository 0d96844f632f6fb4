"""How far open water lies from where boats lie."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("records", "0031_settings_gone")]

    operations = [
        migrations.AddField(
            model_name="place",
            name="water_off_m",
            field=models.FloatField(
                blank=True,
                help_text="How far open water lies from the boats; null where nobody entered it.",
                null=True,
            ),
        ),
    ]
