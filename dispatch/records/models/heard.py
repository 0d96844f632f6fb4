"""What came in from outside about messages: posts as they were signed, and what people answered."""

from django.db import models

from dispatch.records.models.boats import Customer
from dispatch.records.models.people import Person


class Post(models.Model):
    """One signed post to a plugin; its signature is stored, so that it is taken once."""

    plugin = models.SlugField(max_length=40)
    signature = models.CharField(max_length=64, unique=True)
    received_at = models.DateTimeField()
    body = models.TextField(blank=True)
    heard_at = models.DateTimeField(null=True, blank=True)
    fault = models.TextField(blank=True)

    class Meta:
        ordering = ("received_at", "id")

    def __str__(self) -> str:
        return f"{self.plugin} {self.received_at:%Y-%m-%d %H:%M}"


class Reply(models.Model):
    """What somebody wrote back; customer and person of the crew are empty where nobody of them has that number."""

    plugin = models.SlugField(max_length=40)
    sender = models.CharField(max_length=120)
    text = models.TextField()
    number = models.CharField(
        max_length=80, blank=True, help_text="What the service calls the answer."
    )
    at = models.DateTimeField()
    customer = models.ForeignKey(
        Customer, null=True, on_delete=models.SET_NULL, related_name="replies"
    )
    person = models.ForeignKey(
        Person, null=True, on_delete=models.SET_NULL, related_name="replies"
    )

    class Meta:
        ordering = ("-at", "-id")
        verbose_name_plural = "replies"
        constraints = (
            models.UniqueConstraint(
                fields=("plugin", "number"),
                condition=~models.Q(number=""),
                name="reply_once_a_number",
            ),
        )

    def __str__(self) -> str:
        return f"{self.sender} {self.at:%Y-%m-%d %H:%M}"


class CrewReport(models.Model):
    """One report of a crew member's phone that was taken, by the word the phone gave it: it is taken once."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="+")
    word = models.CharField(max_length=60)
    came_at = models.DateTimeField()

    class Meta:
        ordering = ("came_at", "id")
        constraints = (
            models.UniqueConstraint(
                fields=("person", "word"), name="crew_report_taken_once"
            ),
        )

    def __str__(self) -> str:
        return f"{self.person} {self.word}"
