"""What somebody decided against a rule, and why."""

from django.db import models
from django.db.models import F, Q

from dispatch.records.models.people import Account
from dispatch.records.models.schedule import WeekPlan
from dispatch.records.models.work import Stage


class Override(models.Model):
    """A rule overruled for a stage over a span, or for a plan that is posted against it.

    It holds while what the rule finds is no worse than ``excess``, which was known then.
    """

    stage = models.ForeignKey(
        Stage, null=True, on_delete=models.CASCADE, related_name="overrides"
    )
    plan = models.ForeignKey(
        WeekPlan, null=True, on_delete=models.CASCADE, related_name="overrides"
    )
    code = models.SlugField(max_length=30)
    start = models.DateTimeField(null=True)
    end = models.DateTimeField(null=True)
    excess = models.FloatField(default=0)
    strength = models.CharField(
        max_length=8, help_text="Who may overrule the rule: owner or lead."
    )
    sentence = models.TextField(help_text="What the rule said, with its numbers.")
    why = models.TextField()
    by = models.ForeignKey(
        Account, null=True, on_delete=models.SET_NULL, related_name="+"
    )
    who = models.CharField(max_length=80)
    at = models.DateTimeField()

    class Meta:
        ordering = ("at", "id")
        constraints = (
            models.CheckConstraint(
                condition=Q(stage__isnull=False, plan__isnull=True)
                | Q(stage__isnull=True, plan__isnull=False),
                name="override_of_stage_or_plan",
            ),
            models.CheckConstraint(
                condition=Q(stage__isnull=True) | Q(end__gt=F("start")),
                name="override_of_stage_has_a_span",
            ),
            models.CheckConstraint(condition=~Q(why=""), name="override_has_a_reason"),
            models.CheckConstraint(
                condition=Q(strength__in=("owner", "lead")),
                name="override_of_no_wall",
            ),
        )

    def __str__(self) -> str:
        return f"{self.code} overruled by {self.who}"
