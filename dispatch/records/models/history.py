"""Who changed what, when and why."""

from django.db import models

from dispatch.records.models.people import Account


class HistoryEntry(models.Model):
    """One change, in a sentence, by a person, the sky or the planner."""

    at = models.DateTimeField()
    by = models.ForeignKey(
        Account, null=True, on_delete=models.SET_NULL, related_name="+"
    )
    actor = models.CharField(
        max_length=40, help_text="The person's name, or sky, planner, keeper."
    )
    verb = models.SlugField(max_length=40)
    subject = models.CharField(max_length=120)
    sentence = models.TextField()
    why = models.TextField(blank=True)

    class Meta:
        ordering = ("-at", "-id")
        verbose_name_plural = "history"
        indexes = (models.Index(fields=("subject",), name="history_by_subject"),)

    def __str__(self) -> str:
        return f"{self.at:%Y-%m-%d %H:%M} {self.actor}: {self.sentence}"
