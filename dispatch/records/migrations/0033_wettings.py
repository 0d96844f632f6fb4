"""What wets the boats of a place every week."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("records", "0032_open_water")]

    operations = [
        migrations.AddField(
            model_name="place",
            name="wettings",
            field=models.JSONField(
                default=list,
                help_text='What wets boats every week: [{"what", "days", "from", "to"}], Monday is 0; to the next day where it ends no later.',
            ),
        ),
    ]
