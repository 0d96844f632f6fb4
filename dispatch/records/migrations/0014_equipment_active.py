"""Equipment may be retired."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("records", "0013_mend_the_week")]

    operations = [
        migrations.AddField(
            model_name="equipment",
            name="active",
            field=models.BooleanField(default=True),
        ),
    ]
