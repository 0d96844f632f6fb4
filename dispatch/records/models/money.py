"""Prices that plugins told, extras, payments and invoices of jobs, in whole cents."""

from django.db import models
from django.db.models import Q

from dispatch.records.models.work import Job


class ToldPrice(models.Model):
    """What a plugin said a job is to cost, and how the job stood then; what is agreed is the job's own."""

    job = models.OneToOneField(Job, on_delete=models.CASCADE, related_name="told_price")
    plugin = models.SlugField(max_length=60, blank=True)
    lines = models.JSONField(default=list, help_text='[{"words", "cents"}].')
    asked = models.CharField(
        max_length=64, blank=True, help_text="What was asked, as a digest."
    )
    told_at = models.DateTimeField(null=True, blank=True)
    fault = models.TextField(
        blank=True, help_text="Why there is no newer answer; empty where there is."
    )

    def __str__(self) -> str:
        return f"{self.job} by {self.plugin or 'nobody'}"


class Extra(models.Model):
    """Something a job costs beside its agreed price; less than nought takes off."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="extras")
    on = models.DateField()
    words = models.CharField(max_length=120)
    cents = models.IntegerField()

    class Meta:
        ordering = ("on", "id")

    def __str__(self) -> str:
        return f"{self.job} {self.words}"


class Payment(models.Model):
    """Money that came in for a job; less than nought was paid back."""

    class Kind(models.TextChoices):
        """What it was paid as."""

        DEPOSIT = "deposit", "Deposit"
        PAYMENT = "payment", "Payment"
        BACK = "back", "Paid back"

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="payments")
    on = models.DateField()
    kind = models.CharField(max_length=8, choices=Kind.choices)
    cents = models.IntegerField()
    how = models.CharField(max_length=60, blank=True)

    class Meta:
        ordering = ("on", "id")
        constraints = (
            models.CheckConstraint(
                condition=Q(kind="back", cents__lt=0)
                | ~Q(kind="back") & Q(cents__gt=0),
                name="payment_has_its_sign",
            ),
        )

    def __str__(self) -> str:
        return f"{self.job} {self.cents} on {self.on}"


class Invoice(models.Model):
    """An invoice as it was issued: what stands in it never changes; a wrong one is void and keeps its number."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="invoices")
    year = models.PositiveSmallIntegerField()
    number = models.PositiveIntegerField(help_text="Counts from 1 in every year.")
    issued_on = models.DateField()
    due_on = models.DateField()
    outfit = models.CharField(max_length=200)
    outfit_lines = models.JSONField(
        default=list, help_text="Its address, phone, e-mail and tax number, as lines."
    )
    pay_how = models.CharField(max_length=400, blank=True)
    customer = models.CharField(max_length=200)
    customer_address = models.CharField(max_length=300, blank=True)
    boat = models.CharField(max_length=200)
    lines = models.JSONField(help_text='[{"words", "cents"}], as they were.')
    tax_pct = models.FloatField(default=0)
    tax_cents = models.IntegerField(default=0)
    total_cents = models.IntegerField()
    paid_cents = models.IntegerField(default=0)
    payments = models.JSONField(
        default=list, help_text='[{"words", "cents"}] of what is in paid_cents.'
    )
    void = models.BooleanField(default=False)

    class Meta:
        ordering = ("-year", "-number")
        constraints = (
            models.UniqueConstraint(
                fields=("year", "number"), name="invoice_number_once_a_year"
            ),
        )

    def __str__(self) -> str:
        return f"{self.year}-{self.number:04d}"
