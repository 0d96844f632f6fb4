"""A weight, a rating and what a mile costs are kept to the figure they were written in."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0034_cans_kept_in"),
    ]

    operations = [
        migrations.AlterField(
            model_name="equipment",
            name="weight_kg",
            field=models.FloatField(default=0),
        ),
        migrations.AlterField(
            model_name="van",
            name="cents_per_km",
            field=models.FloatField(default=45),
        ),
        migrations.AlterField(
            model_name="van",
            name="tow_rating_kg",
            field=models.FloatField(default=0, help_text="0 where it may not tow."),
        ),
        migrations.AddConstraint(
            model_name="equipment",
            constraint=models.CheckConstraint(
                condition=models.Q(("weight_kg__gte", 0)),
                name="equipment_weight_not_below_nought",
            ),
        ),
        migrations.AddConstraint(
            model_name="van",
            constraint=models.CheckConstraint(
                condition=models.Q(("tow_rating_kg__gte", 0), ("cents_per_km__gte", 0)),
                name="van_numbers_not_below_nought",
            ),
        ),
    ]
