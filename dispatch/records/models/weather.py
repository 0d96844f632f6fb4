"""Forecasts by place and hour, the vetoes they give, and what was read on site."""

from django.db import models
from django.db.models import F, Q

from dispatch.records.models.boats import Boat
from dispatch.records.models.people import Account
from dispatch.records.models.places import Place
from dispatch.records.models.work import Stage


class Forecast(models.Model):
    """One forecast of one place, as issued by one source."""

    place = models.ForeignKey(Place, on_delete=models.CASCADE, related_name="forecasts")
    source = models.CharField(max_length=80)
    issued_at = models.DateTimeField()
    taken_in_at = models.DateTimeField()
    kept = models.TextField(
        blank=True, help_text="What the source wants to know when it is next asked."
    )

    hand_from = models.DateTimeField(
        null=True, help_text="From here on hours were entered by hand over the issue."
    )
    hand_until = models.DateTimeField(null=True)
    by = models.ForeignKey(
        Account,
        null=True,
        on_delete=models.SET_NULL,
        related_name="+",
        help_text="Who entered hours by hand.",
    )
    old_told_at = models.DateTimeField(
        null=True, help_text="When it was told that nothing newer had come for long."
    )

    class Meta:
        ordering = ("place", "-issued_at")
        get_latest_by = "issued_at"
        constraints = (
            models.UniqueConstraint(
                fields=("place", "source", "issued_at"), name="forecast_once_an_issue"
            ),
        )

    def __str__(self) -> str:
        return f"{self.place} {self.issued_at:%Y-%m-%d %H:%M}"


class ForecastHour(models.Model):
    """One hour of a forecast, as the source gave it; an empty number is unknown."""

    forecast = models.ForeignKey(
        Forecast, on_delete=models.CASCADE, related_name="hours"
    )
    at = models.DateTimeField()
    air_c = models.FloatField(null=True)
    dew_c = models.FloatField(null=True)
    rh_pct = models.FloatField(null=True)
    wind_ms = models.FloatField(null=True)
    gust_ms = models.FloatField(null=True)
    from_deg = models.FloatField(null=True)
    cloud_pct = models.FloatField(null=True)
    rain_mm = models.FloatField(null=True)
    rain_prob_pct = models.FloatField(null=True)
    fog = models.FloatField(null=True)

    class Meta:
        ordering = ("forecast", "at")
        constraints = (
            models.UniqueConstraint(
                fields=("forecast", "at"), name="forecast_hour_once"
            ),
        )

    def __str__(self) -> str:
        return f"{self.forecast} {self.at:%H:%M}"


class Veto(models.Model):
    """A span in which a stage may not be done, with the numbers that were compared."""

    class Edge(models.TextChoices):
        """What of the visit may not fall in the span."""

        DURING = "during", "Any of it"
        ENDING = "ending", "Its end"

    stage = models.ForeignKey(Stage, on_delete=models.CASCADE, related_name="vetoes")
    plugin = models.SlugField(max_length=40)
    edge = models.CharField(max_length=8, choices=Edge.choices)
    start = models.DateTimeField()
    end = models.DateTimeField()
    code = models.SlugField(max_length=30)
    sentence = models.TextField()
    numbers = models.JSONField(default=dict)
    strength = models.CharField(
        max_length=8, help_text="Who may overrule it: wall (nobody), owner, lead."
    )
    excess = models.FloatField(
        default=0, help_text="How far past the limit at the worst, in its own unit."
    )

    class Meta:
        ordering = ("stage", "start")
        verbose_name_plural = "vetoes"
        constraints = (
            models.CheckConstraint(
                condition=Q(end__gt=F("start")), name="veto_ends_after_start"
            ),
        )

    def __str__(self) -> str:
        return f"{self.stage} {self.code} {self.start:%Y-%m-%d %H:%M}"


class Judged(models.Model):
    """When a stage was last judged by a plugin, over which span, on which forecast."""

    stage = models.ForeignKey(Stage, on_delete=models.CASCADE, related_name="judged")
    plugin = models.SlugField(max_length=40)
    forecast = models.ForeignKey(Forecast, null=True, on_delete=models.SET_NULL)
    since = models.DateTimeField()
    until = models.DateTimeField()
    at = models.DateTimeField()
    answered_at = models.DateTimeField(
        null=True,
        help_text="When the answer that stands was given; none where there is none.",
    )
    fault = models.TextField(
        blank=True, help_text="Why there is no answer; the stage is then unknown."
    )

    class Meta:
        verbose_name_plural = "judged"
        constraints = (
            models.UniqueConstraint(
                fields=("stage", "plugin"), name="judged_once_a_plugin"
            ),
        )

    def __str__(self) -> str:
        return f"{self.stage} by {self.plugin}"


class Reading(models.Model):
    """A number read on site, with the time it was read, not the time it arrived."""

    class Kind(models.TextChoices):
        """What was read."""

        SURFACE = "surface_c", "Hull temperature"
        AIR = "air_c", "Air temperature"
        HUMIDITY = "rh_pct", "Relative humidity"
        HEADING = "heading_deg", "Heading"

    boat = models.ForeignKey(Boat, on_delete=models.CASCADE, related_name="readings")
    kind = models.CharField(max_length=12, choices=Kind.choices)
    value = models.FloatField()
    read_at = models.DateTimeField()
    arrived_at = models.DateTimeField()
    by = models.ForeignKey(
        Account, null=True, on_delete=models.SET_NULL, related_name="+"
    )

    class Meta:
        ordering = ("boat", "read_at")

    def __str__(self) -> str:
        return f"{self.boat} {self.kind} {self.value}"
