"""Kinds of job, visits and steps as the machines' door shows them."""

from typing import Any

from rest_framework import serializers

from dispatch.actions import catalogue
from dispatch.records.models import CatalogueRow, JobKind

# What a small column of positions holds.
LAST_POSITION = 32767

_STEP_FIELDS = (
    "name",
    "fixed_minutes",
    "clock_minutes",
    "hold_minutes",
    "meanwhile",
    "per_ft_1",
    "per_ft_2",
    "per_ft_3",
    "per_ft_4",
    "per_repair",
    "per_panel",
    "share",
    "crew_min",
    "crew_max",
    "skill",
    "family",
)


class RepairMinutes(serializers.Serializer[Any]):
    """Labour-minutes a repair, by size."""

    S = serializers.FloatField(required=False)
    M = serializers.FloatField(required=False)
    L = serializers.FloatField(required=False)


class Step(serializers.ModelSerializer[CatalogueRow]):
    """One step: labour-minutes once a visit, a foot by condition grade, a repair and a panel; its team and skill."""

    per_repair = serializers.DictField(
        child=serializers.FloatField(),
        help_text="Labour-minutes a repair by size: S, M, L.",
    )

    class Meta:
        model = CatalogueRow
        fields = ("position", "visit", *_STEP_FIELDS)


class StepChange(serializers.Serializer[Any]):
    """Fields of a step to change, and why; what is left out stays."""

    name = serializers.CharField(max_length=120, required=False)
    fixed_minutes = serializers.FloatField(required=False)
    clock_minutes = serializers.FloatField(required=False)
    hold_minutes = serializers.FloatField(required=False)
    meanwhile = serializers.BooleanField(required=False)
    per_ft_1 = serializers.FloatField(required=False)
    per_ft_2 = serializers.FloatField(required=False)
    per_ft_3 = serializers.FloatField(required=False)
    per_ft_4 = serializers.FloatField(required=False)
    per_repair = RepairMinutes(required=False)
    per_panel = serializers.FloatField(required=False)
    share = serializers.FloatField(required=False)
    crew_min = serializers.IntegerField(required=False)
    crew_max = serializers.IntegerField(required=False)
    skill = serializers.CharField(max_length=30, required=False)
    family = serializers.CharField(max_length=20, required=False)
    why = serializers.CharField(required=False, allow_blank=True, max_length=500)


class KindChange(serializers.Serializer[Any]):
    """Fields of a kind of job to change, and why."""

    name = serializers.CharField(max_length=80, required=False)
    cents_per_ft = serializers.IntegerField(required=False)
    flat_cents = serializers.IntegerField(required=False)
    bumped_first = serializers.BooleanField(required=False)
    why = serializers.CharField(required=False, allow_blank=True, max_length=500)


class CatalogueVisit(serializers.Serializer[Any]):
    """What one team does in one go: the shape of the work, and its steps."""

    visit = serializers.CharField()
    name = serializers.CharField()
    after = serializers.ListField(
        child=serializers.CharField(), help_text="What it comes after, in words."
    )
    gear = serializers.ListField(child=serializers.CharField())
    lays = serializers.CharField(
        allow_blank=True, help_text="sheet, gelcoat, or nothing."
    )
    sprays = serializers.BooleanField()
    steps = Step(many=True)


class CatalogueKind(serializers.Serializer[Any]):
    """A kind of job with its visits."""

    key = serializers.CharField()
    name = serializers.CharField()
    cents_per_ft = serializers.IntegerField()
    flat_cents = serializers.IntegerField()
    sprays = serializers.BooleanField()
    bumped_first = serializers.BooleanField()
    visits = CatalogueVisit(many=True)


def kind_row(kind: JobKind) -> dict[str, Any]:
    """A kind of job as its shape wants it."""
    names = ("key", "name", "cents_per_ft", "flat_cents", "sprays", "bumped_first")
    return {name: getattr(kind, name) for name in names} | {
        "visits": [
            {
                "visit": one.recipe.visit,
                "name": one.recipe.name,
                "after": list(one.after),
                "gear": list(one.recipe.gear),
                "lays": one.recipe.lays,
                "sprays": one.recipe.sprays,
                "steps": one.rows,
            }
            for one in catalogue.visits(kind)
        ]
    }
