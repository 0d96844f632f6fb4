"""Crews that could not get to a boat: since when they waited, and that they left her for the owner."""

from django.db import models
from django.db.models import F, Q

from dispatch.records.models.boats import Photo
from dispatch.records.models.money import Extra
from dispatch.records.models.people import Person
from dispatch.records.models.work import Job, Stage


class ShutOut(models.Model):
    """A locked gate or nobody at home: since when the crew waits for a visit, until when, and when it left.

    A boat that was left is held for the owner until ``over_at``: the crew got to her after all, or the owner dealt with it.
    """

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="shut_outs")
    stage = models.ForeignKey(
        Stage, null=True, on_delete=models.SET_NULL, related_name="shut_outs"
    )
    person = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    since = models.DateTimeField()
    until = models.DateTimeField()
    left_at = models.DateTimeField(null=True, blank=True)
    over_at = models.DateTimeField(null=True, blank=True)
    fee = models.OneToOneField(
        Extra,
        null=True,
        blank=True,
        on_delete=models.SET_NULL,
        related_name="shut_out",
        help_text="What the owner put on the job for having come in vain.",
    )
    photos = models.ManyToManyField(Photo, related_name="shut_outs")

    class Meta:
        ordering = ("since", "id")
        constraints = (
            models.UniqueConstraint(
                fields=("job",),
                condition=Q(over_at__isnull=True),
                name="shut_out_one_a_job",
            ),
            models.CheckConstraint(
                condition=Q(until__gt=F("since")), name="shut_out_waits"
            ),
            models.CheckConstraint(
                condition=Q(left_at__isnull=True) | Q(left_at__gte=F("since")),
                name="shut_out_left_after_it_came",
            ),
        )

    def __str__(self) -> str:
        return f"{self.job} {self.since:%Y-%m-%d %H:%M}"
