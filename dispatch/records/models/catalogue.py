"""What the outfit does, step by step, with its labour rates."""

from django.db import models
from django.db.models import Q


class JobKind(models.Model):
    """A kind of job the outfit does, with its price by the foot."""

    key = models.SlugField(max_length=30, unique=True)
    name = models.CharField(max_length=80)
    cents_per_ft = models.PositiveIntegerField(default=0)
    flat_cents = models.PositiveIntegerField(default=0)
    sprays = models.BooleanField(default=False)
    bumped_first = models.BooleanField(default=False)

    class Meta:
        ordering = ("key",)

    def __str__(self) -> str:
        return self.name


class CatalogueRow(models.Model):
    """One step of a kind of job: its labour rates, who does it, and what the sky must allow.

    Rows with one ``visit`` are done one after another by one team and become one stage.
    """

    kind = models.ForeignKey(JobKind, on_delete=models.CASCADE, related_name="rows")
    position = models.PositiveSmallIntegerField()
    name = models.CharField(max_length=120)
    visit = models.SlugField(max_length=30)
    fixed_minutes = models.FloatField(
        default=0, help_text="Labour-minutes once a visit."
    )
    clock_minutes = models.FloatField(
        default=0, help_text="Minutes by the clock whatever the team."
    )
    per_ft_1 = models.FloatField(
        default=0, help_text="Labour-minutes a foot at condition grade 1."
    )
    per_ft_2 = models.FloatField(default=0)
    per_ft_3 = models.FloatField(default=0)
    per_ft_4 = models.FloatField(default=0)
    per_repair = models.JSONField(
        default=dict,
        help_text='Labour-minutes a repair, as {"S": 35, "M": 60, "L": 110}.',
    )
    per_panel = models.FloatField(
        default=0, help_text="Labour-minutes a panel to be put right."
    )
    hold_minutes = models.FloatField(
        default=0,
        help_text="Minutes the boat is left after it, as to dry, by all but what may be done meanwhile.",
    )
    meanwhile = models.BooleanField(
        default=False,
        help_text="May be done while she dries or a fill kicks from a step before it.",
    )
    share = models.FloatField(
        default=1, help_text="The part of the labour that falls to this visit."
    )
    crew_min = models.PositiveSmallIntegerField(default=1)
    crew_max = models.PositiveSmallIntegerField(default=3)
    skill = models.SlugField(max_length=30)
    family = models.SlugField(
        max_length=20, help_text="What the sky must allow: a weather family."
    )

    class Meta:
        ordering = ("kind", "position")
        constraints = (
            models.UniqueConstraint(
                fields=("kind", "position"), name="catalogue_position_once"
            ),
            models.CheckConstraint(
                condition=Q(crew_min__gte=1, crew_max__gte=models.F("crew_min")),
                name="catalogue_crew_range",
            ),
            models.CheckConstraint(
                condition=Q(share__gt=0, share__lte=1), name="catalogue_share_0_to_1"
            ),
        )

    def __str__(self) -> str:
        return f"{self.kind.key} {self.position} {self.name}"
