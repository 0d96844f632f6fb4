"""Covers that are pulled over film that is wet."""

from django.db import models
from django.db.models import Q

from dispatch.records.models.fleet import Equipment
from dispatch.records.models.people import Account
from dispatch.records.models.work import Job


class Cover(models.Model):
    """A cover asked for over a boat's wet film: by when, since when it is on, and when it came off or was not wanted any more.

    Without a roof of the outfit it is whatever can be had.
    """

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="covers")
    equipment = models.ForeignKey(
        Equipment, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    by_when = models.DateTimeField(null=True, blank=True)
    asked_at = models.DateTimeField()
    asked_by = models.ForeignKey(
        Account, null=True, on_delete=models.SET_NULL, related_name="+"
    )
    on_at = models.DateTimeField(null=True, blank=True)
    off_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("asked_at",)
        constraints = (
            models.UniqueConstraint(
                fields=("job",),
                condition=Q(off_at__isnull=True),
                name="cover_one_over_a_boat",
            ),
            models.UniqueConstraint(
                fields=("equipment",),
                condition=Q(off_at__isnull=True),
                name="cover_one_boat_under_a_roof",
            ),
        )

    def __str__(self) -> str:
        return f"{self.job} under {self.equipment or 'what can be had'}"
