"""What we tell people: one row a message, sent once."""

from django.db import models
from django.db.models import Q

from dispatch.records.models.boats import Customer
from dispatch.records.models.people import Person
from dispatch.records.models.work import Job


class Notice(models.Model):
    """One message about one version of one fact, by one channel, to one customer or to one person of the crew."""

    class State(models.TextChoices):
        """How far the message is."""

        WAITING = "waiting", "Waiting"
        CLAIMED = "claimed", "Being sent"
        SENT = "sent", "Sent"
        REFUSED = "refused", "Refused"
        UNKNOWN = "unknown", "Not known whether it arrived"
        DROPPED = "dropped", "Not sent, overtaken"

    class Delivery(models.TextChoices):
        """What the channel told later of a message that was sent."""

        UNTOLD = "", "Nothing told"
        DELIVERED = "delivered", "It arrived"
        FAILED = "failed", "It did not arrive"

    reason = models.SlugField(max_length=30)
    fact = models.CharField(
        max_length=120, help_text="What it is about, as job J1 visit 2027-05-24."
    )
    version = models.CharField(max_length=80)
    customer = models.ForeignKey(
        Customer,
        null=True,
        blank=True,
        on_delete=models.CASCADE,
        related_name="notices",
    )
    person = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.CASCADE, related_name="notices"
    )
    job = models.ForeignKey(
        Job, null=True, on_delete=models.SET_NULL, related_name="notices"
    )
    channel = models.SlugField(max_length=20)
    to = models.CharField(max_length=120)
    subject = models.CharField(max_length=120, blank=True)
    body = models.TextField()
    begins_at = models.DateTimeField(
        null=True, blank=True, help_text="The span the message tells of, where it does."
    )
    ends_at = models.DateTimeField(null=True, blank=True)
    due_at = models.DateTimeField()
    state = models.CharField(
        max_length=10, choices=State.choices, default=State.WAITING
    )
    attempts = models.PositiveSmallIntegerField(default=0)
    claimed_at = models.DateTimeField(null=True, blank=True)
    settled_at = models.DateTimeField(null=True, blank=True)
    said = models.CharField(
        max_length=200, blank=True, help_text="What the channel answered."
    )
    number = models.CharField(
        max_length=80, blank=True, help_text="The channel's own number of the message."
    )
    delivery = models.CharField(
        max_length=10, choices=Delivery.choices, default=Delivery.UNTOLD, blank=True
    )
    delivery_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("due_at", "id")
        constraints = (
            models.UniqueConstraint(
                fields=("reason", "fact", "version", "customer", "channel"),
                name="notice_one_fact_once",
            ),
            models.UniqueConstraint(
                fields=("reason", "fact", "version", "person", "channel"),
                name="notice_one_fact_once_a_person",
            ),
            models.CheckConstraint(
                condition=Q(customer__isnull=False, person__isnull=True)
                | Q(customer__isnull=True, person__isnull=False),
                name="notice_to_one",
            ),
            models.CheckConstraint(condition=~Q(to=""), name="notice_goes_somewhere"),
        )
        indexes = (
            models.Index(fields=("state", "due_at"), name="notice_by_state_and_due"),
            models.Index(fields=("number",), name="notice_by_number"),
        )

    def __str__(self) -> str:
        return f"{self.reason} {self.fact} {self.channel}"

    @property
    def addressee(self) -> Customer | Person:
        """Who is told: the customer, or the person of the crew."""
        found = self.customer or self.person
        if found is None:
            raise ValueError("A message is to somebody.")
        return found
