"""What would mend a snag of a plan, and what that costs; worked out by a task, kept until it is worked out anew."""

from django.db import models

from dispatch.records.models.schedule import WeekPlan


class Mend(models.Model):
    """The cheapest change by hand that mends one snag of a plan; one without ``ask`` says that none was found.

    An ``ask`` ``{"do": "anew", "priced": true}`` plans the rest of the week anew, its cost known or not.
    """

    plan = models.ForeignKey(WeekPlan, on_delete=models.CASCADE, related_name="mends")
    snag = models.CharField(max_length=160, help_text="What the snag is about.")
    words = models.CharField(max_length=400)
    cents = models.IntegerField(
        default=0, help_text="What the week then costs more; below zero less."
    )
    ask = models.JSONField(
        default=dict,
        help_text='{"do": "put", "stage", "van", "day", "at", "who"} or {"do": "swap", "van", "day", "out", "into"}.',
    )
    at = models.DateTimeField()

    class Meta:
        ordering = ("plan", "snag")
        constraints = (
            models.UniqueConstraint(fields=("plan", "snag"), name="mend_once_a_snag"),
        )

    def __str__(self) -> str:
        return f"{self.snag}: {self.words}"
