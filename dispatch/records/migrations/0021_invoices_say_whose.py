"""What an invoice says of the outfit and its customer, and of what was paid."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0020_mends"),
    ]

    operations = [
        migrations.AddField(
            model_name="customer",
            name="address",
            field=models.CharField(
                blank=True,
                help_text="Postal, in lines; invoices carry it.",
                max_length=300,
            ),
        ),
        migrations.AddField(
            model_name="invoice",
            name="customer_address",
            field=models.CharField(blank=True, max_length=300),
        ),
        migrations.AddField(
            model_name="invoice",
            name="outfit_lines",
            field=models.JSONField(
                default=list,
                help_text="Its address, phone, e-mail and tax number, as lines.",
            ),
        ),
        migrations.AddField(
            model_name="invoice",
            name="pay_how",
            field=models.CharField(blank=True, max_length=400),
        ),
        migrations.AddField(
            model_name="invoice",
            name="payments",
            field=models.JSONField(
                default=list, help_text='[{"words", "cents"}] of what is in paid_cents.'
            ),
        ),
        migrations.AddField(
            model_name="outfit",
            name="address",
            field=models.CharField(
                blank=True,
                help_text="Postal, in lines; invoices carry it.",
                max_length=300,
            ),
        ),
        migrations.AddField(
            model_name="outfit",
            name="email",
            field=models.EmailField(blank=True, max_length=254),
        ),
        migrations.AddField(
            model_name="outfit",
            name="pay_how",
            field=models.CharField(
                blank=True,
                help_text="How customers pay, in lines; invoices carry it.",
                max_length=400,
            ),
        ),
        migrations.AddField(
            model_name="outfit",
            name="phone",
            field=models.CharField(blank=True, help_text="E.164.", max_length=20),
        ),
        migrations.AddField(
            model_name="outfit",
            name="tax_number",
            field=models.CharField(blank=True, max_length=40),
        ),
    ]
