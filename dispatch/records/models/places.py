"""Places where boats lie: where they are, when one may work there, what the yard allows."""

from django.db import models
from django.db.models import F, Q


class Place(models.Model):
    """The shop, a yard, a slip or a driveway."""

    class SprayRule(models.TextChoices):
        """What the place allows of spraying."""

        OPEN = "open", "Spraying allowed"
        SCREENS = "screens", "Spraying behind side-screens only"
        ROOF = "roof", "Spraying under a roof only"
        NONE = "none", "No spraying"

    class HeatRule(models.TextChoices):
        """By what its heat is judged."""

        STRICTER = "stricter", "Air or heat index, the stricter"
        AIR = "air", "Air temperature"
        INDEX = "index", "Heat index"
        WBGT = "wbgt", "WBGT, estimated"

    key = models.SlugField(max_length=40, unique=True)
    name = models.CharField(max_length=80)
    address = models.CharField(max_length=200, blank=True)
    latitude = models.FloatField()
    longitude = models.FloatField()
    time_zone = models.CharField(max_length=60)
    declination_deg = models.FloatField(
        null=True, blank=True, help_text="East positive; needed for compass readings."
    )
    is_base = models.BooleanField(default=False)
    spray_rule = models.CharField(
        max_length=10, choices=SprayRule.choices, default=SprayRule.OPEN
    )
    two_part_allowed = models.BooleanField(default=True)
    heat_rule = models.CharField(
        max_length=10, choices=HeatRule.choices, default=HeatRule.STRICTER
    )
    afloat = models.BooleanField(
        default=False, help_text="Boats lie in the water here."
    )
    water = models.BooleanField(default=True)
    power = models.BooleanField(default=True)
    sign_in_minutes = models.PositiveSmallIntegerField(default=0)
    swing_room_m = models.FloatField(
        null=True, blank=True, help_text="Free width to turn a boat on its trailer."
    )
    water_off_m = models.FloatField(
        null=True,
        blank=True,
        help_text="How far open water lies from the boats; null where nobody entered it.",
    )
    wind_factor = models.FloatField(default=1.0)
    day_offset_k = models.FloatField(default=0.0)
    night_offset_k = models.FloatField(default=0.0)
    horizon = models.JSONField(
        default=list,
        help_text='Shade by obstacles: [{"from_deg", "to_deg", "elevation_deg"}].',
    )
    neighbours = models.JSONField(
        default=list, help_text='[{"what", "bearing_deg", "distance_m", "sheeted"}].'
    )
    wettings = models.JSONField(
        default=list,
        help_text='What wets boats every week: [{"what", "days", "from", "to"}], Monday is 0; to the next day where it ends no later.',
    )
    gate = models.CharField(
        max_length=200, blank=True, help_text="What the crew must know at the gate."
    )
    rules = models.TextField(
        blank=True, help_text="The yard's own rules, in its words."
    )

    class Meta:
        ordering = ("name",)
        constraints = (
            models.CheckConstraint(
                condition=Q(latitude__gte=-90, latitude__lte=90), name="place_latitude"
            ),
            models.CheckConstraint(
                condition=Q(longitude__gte=-180, longitude__lte=180),
                name="place_longitude",
            ),
            models.CheckConstraint(
                condition=Q(wind_factor__gte=0), name="place_wind_factor"
            ),
        )

    def __str__(self) -> str:
        return self.name


class AccessHours(models.Model):
    """The hours of a weekday (Monday is 0) in which the place may be worked at."""

    place = models.ForeignKey(
        Place, on_delete=models.CASCADE, related_name="access_hours"
    )
    weekday = models.PositiveSmallIntegerField()
    start = models.TimeField()
    end = models.TimeField()

    class Meta:
        ordering = ("place", "weekday", "start")
        verbose_name_plural = "access hours"
        constraints = (
            models.CheckConstraint(
                condition=Q(weekday__lte=6), name="access_weekday_0_to_6"
            ),
            models.CheckConstraint(
                condition=Q(end__gt=F("start")), name="access_ends_after_start"
            ),
        )

    def __str__(self) -> str:
        return f"{self.place} {self.weekday} {self.start:%H:%M}-{self.end:%H:%M}"


class Closure(models.Model):
    """A span in which a place is shut to the crew, lets it in all the same, or is known to be wetted (a sprinkler)."""

    class Kind(models.TextChoices):
        """Why the span matters."""

        SHUT = "shut", "Shut to contractors"
        LET_IN = "let-in", "Let in all the same"
        WETTING = "wetting", "Known wetting"
        TIDE = "tide", "Tide too low"

    place = models.ForeignKey(Place, on_delete=models.CASCADE, related_name="closures")
    kind = models.CharField(max_length=10, choices=Kind.choices, default=Kind.SHUT)
    start = models.DateTimeField()
    end = models.DateTimeField()
    reason = models.CharField(max_length=120)

    class Meta:
        ordering = ("place", "start")
        constraints = (
            models.CheckConstraint(
                condition=Q(end__gt=F("start")), name="closure_ends_after_start"
            ),
        )

    def __str__(self) -> str:
        return f"{self.place} {self.kind} {self.start:%Y-%m-%d %H:%M}"


class DriveTime(models.Model):
    """Minutes and metres from one place to another, where known better than by distance.

    Without a ``source`` they are as people drove it; else by a plugin, between where the places then lay.
    """

    origin = models.ForeignKey(
        Place, on_delete=models.CASCADE, related_name="drives_from"
    )
    destination = models.ForeignKey(
        Place, on_delete=models.CASCADE, related_name="drives_to"
    )
    minutes = models.PositiveIntegerField()
    metres = models.PositiveIntegerField()
    source = models.SlugField(max_length=40, blank=True)
    between = models.CharField(
        max_length=80, blank=True, help_text="Where both places lay when it was told."
    )

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("origin", "destination", "source"),
                name="drive_time_once_a_source",
            ),
            models.CheckConstraint(
                condition=~Q(origin=F("destination")), name="drive_time_two_places"
            ),
        )

    def __str__(self) -> str:
        return f"{self.origin} to {self.destination}: {self.minutes} min"
