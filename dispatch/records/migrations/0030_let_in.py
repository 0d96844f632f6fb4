"""A place may let the crew in all the same."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0029_wax_and_letters"),
    ]

    operations = [
        migrations.AlterField(
            model_name="closure",
            name="kind",
            field=models.CharField(
                choices=[
                    ("shut", "Shut to contractors"),
                    ("let-in", "Let in all the same"),
                    ("wetting", "Known wetting"),
                    ("tide", "Tide too low"),
                ],
                default="shut",
                max_length=10,
            ),
        ),
    ]
