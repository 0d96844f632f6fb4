"""What an outfit asks of who gets a boat with a new finish back, in its own words."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0024_crew_notices"),
    ]

    operations = [
        migrations.AddField(
            model_name="outfit",
            name="care",
            field=models.CharField(
                blank=True,
                help_text="What a new finish asks for in its first days, in lines; told on hand-back.",
                max_length=300,
            ),
        ),
    ]
