"""Vans, and the outfit's own equipment with the places it has stood at."""

from django.db import models
from django.db.models import F, Q

from dispatch.records.models.places import Place


class Van(models.Model):
    """A van or pickup: seats, what it may tow, what is always aboard."""

    key = models.SlugField(max_length=40, unique=True)
    name = models.CharField(max_length=80)
    base = models.ForeignKey(Place, on_delete=models.PROTECT, related_name="vans")
    seats = models.PositiveSmallIntegerField()
    tow_rating_kg = models.FloatField(default=0, help_text="0 where it may not tow.")
    gear = models.JSONField(
        default=list, help_text="Names of gear that is always aboard."
    )
    carries = models.JSONField(
        default=dict, help_text='What it carries, as {"water_l": 190}.'
    )
    duty_start = models.TimeField()
    duty_end = models.TimeField()
    cents_per_day = models.PositiveIntegerField(default=4500)
    cents_per_km = models.FloatField(default=45)
    active = models.BooleanField(default=True)

    class Meta:
        ordering = ("name",)
        constraints = (
            models.CheckConstraint(condition=Q(seats__gte=1), name="van_has_a_seat"),
            models.CheckConstraint(
                condition=Q(duty_end__gt=F("duty_start")),
                name="van_duty_ends_after_start",
            ),
            models.CheckConstraint(
                condition=Q(tow_rating_kg__gte=0) & Q(cents_per_km__gte=0),
                name="van_numbers_not_below_nought",
            ),
        )

    def __str__(self) -> str:
        return self.name


class VanOff(models.Model):
    """A date on which a van is off the road."""

    van = models.ForeignKey(Van, on_delete=models.CASCADE, related_name="days_off")
    on = models.DateField()
    reason = models.CharField(max_length=80, blank=True)

    class Meta:
        ordering = ("on",)
        constraints = (
            models.UniqueConstraint(fields=("van", "on"), name="van_off_once_a_date"),
        )

    def __str__(self) -> str:
        return f"{self.van} {self.on}"


class Equipment(models.Model):
    """A trailer that is towed, or a canopy that is carried: one thing, in one place at a time."""

    key = models.SlugField(max_length=40, unique=True)
    name = models.CharField(max_length=80)
    kind = models.SlugField(max_length=40)
    towed = models.BooleanField()
    weight_kg = models.FloatField(default=0)
    take_minutes = models.PositiveSmallIntegerField(
        default=15, help_text="To hook up, or to strike it."
    )
    set_minutes = models.PositiveSmallIntegerField(
        default=15, help_text="To unhook, or to pitch it."
    )
    drive_factor_pct = models.PositiveSmallIntegerField(default=120)
    screens = models.BooleanField(default=False, help_text="Brings side-screens.")
    roof = models.BooleanField(
        default=False, help_text="Keeps rain and dew off the film."
    )
    down_gust_ms = models.FloatField(
        null=True,
        blank=True,
        help_text="The gust at which its maker wants a roof down; null where nobody was told.",
    )
    active = models.BooleanField(default=True)

    class Meta:
        ordering = ("name",)
        verbose_name_plural = "equipment"
        constraints = (
            models.CheckConstraint(
                condition=Q(down_gust_ms__isnull=True) | Q(down_gust_ms__gt=0),
                name="equipment_down_at_a_gust",
            ),
            models.CheckConstraint(
                condition=Q(weight_kg__gte=0), name="equipment_weight_not_below_nought"
            ),
        )

    def __str__(self) -> str:
        return self.name


class Standing(models.Model):
    """Where a piece of equipment has stood since a moment."""

    equipment = models.ForeignKey(
        Equipment, on_delete=models.CASCADE, related_name="standings"
    )
    place = models.ForeignKey(Place, on_delete=models.PROTECT, related_name="+")
    since = models.DateTimeField()

    class Meta:
        ordering = ("equipment", "since")
        constraints = (
            models.UniqueConstraint(
                fields=("equipment", "since"), name="standing_one_place_at_a_time"
            ),
        )

    def __str__(self) -> str:
        return f"{self.equipment} at {self.place} since {self.since:%Y-%m-%d %H:%M}"
