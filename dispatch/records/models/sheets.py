"""Product sheets: the limits a product sets, and the cans in store."""

from django.db import models
from django.db.models import F, Q

from dispatch.records.models.fleet import Van
from dispatch.records.models.places import Place


class Sheet(models.Model):
    """The data sheet of one product. Temperatures in Celsius, speeds in m/s, cure in hours at 70 F (21.1 C)."""

    class Kind(models.TextChoices):
        """What sort of product it is."""

        ONE_PART = "one-part", "One-part clear coat"
        TWO_PART = "two-part", "Two-part clear coat"
        WIPE_ON = "wipe-on", "Wipe-on"
        GELCOAT = "gelcoat", "Gelcoat"

    key = models.SlugField(max_length=40, unique=True)
    name = models.CharField(max_length=80)
    kind = models.CharField(max_length=10, choices=Kind.choices)
    pack_ml = models.FloatField()
    air_min_c = models.FloatField()
    air_max_c = models.FloatField()
    surface_min_c = models.FloatField()
    surface_max_c = models.FloatField()
    rh_min_pct = models.FloatField(null=True, blank=True)
    rh_max_pct = models.FloatField()
    spread_min_k = models.FloatField()
    wind_max_ms = models.FloatField()
    gust_max_ms = models.FloatField()
    screened_wind_max_ms = models.FloatField(null=True, blank=True)
    screened_gust_max_ms = models.FloatField(null=True, blank=True)
    flash_ref_minutes = models.FloatField()
    recoat_latest_ref_h = models.FloatField(null=True, blank=True)
    rain_safe_ref_h = models.FloatField(null=True, blank=True)
    sandable_ref_h = models.FloatField(null=True, blank=True)
    refit_extra_ref_h = models.FloatField(default=6)
    cure_min_c = models.FloatField()
    solids_pct = models.FloatField(
        null=True, blank=True, help_text="What stays of it when dry, by volume."
    )
    dry_um = models.FloatField(
        null=True, blank=True, help_text="The dry film the maker asks of one coat."
    )
    pot_life_ref_h = models.FloatField(null=True, blank=True)
    opened_shelf_days = models.PositiveSmallIntegerField(null=True, blank=True)
    people = models.CharField(
        max_length=200,
        blank=True,
        help_text="What the sheet asks people to wear and keep to.",
    )
    pack_cents = models.PositiveIntegerField(default=0)

    counted_at = models.DateTimeField(
        null=True, blank=True, help_text="When its cans were last counted by hand."
    )

    class Meta:
        ordering = ("name",)
        constraints = (
            models.CheckConstraint(
                condition=Q(air_max_c__gt=F("air_min_c")), name="sheet_air_range"
            ),
            models.CheckConstraint(
                condition=Q(surface_max_c__gt=F("surface_min_c")),
                name="sheet_surface_range",
            ),
            models.CheckConstraint(
                condition=Q(pack_ml__gt=0), name="sheet_pack_positive"
            ),
            models.CheckConstraint(
                condition=Q(solids_pct__isnull=True)
                | Q(solids_pct__gt=0, solids_pct__lte=100),
                name="sheet_solids_0_to_100",
            ),
            models.CheckConstraint(
                condition=Q(dry_um__isnull=True) | Q(dry_um__gt=0),
                name="sheet_dry_film_positive",
            ),
        )

    def __str__(self) -> str:
        return self.name


class Can(models.Model):
    """A can in store, sealed or open, in a van or at a place; neither where nobody entered it."""

    sheet = models.ForeignKey(Sheet, on_delete=models.PROTECT, related_name="cans")
    left_ml = models.FloatField()
    opened_on = models.DateField(null=True, blank=True)
    count = models.PositiveSmallIntegerField(default=1)
    van = models.ForeignKey(
        Van, null=True, blank=True, on_delete=models.SET_NULL, related_name="cans"
    )
    place = models.ForeignKey(
        Place, null=True, blank=True, on_delete=models.SET_NULL, related_name="cans"
    )

    class Meta:
        ordering = ("sheet", "opened_on")
        constraints = (
            models.CheckConstraint(
                condition=Q(van__isnull=True) | Q(place__isnull=True),
                name="can_in_one_place",
            ),
            models.CheckConstraint(
                condition=Q(left_ml__gte=0), name="can_not_below_empty"
            ),
        )

    def __str__(self) -> str:
        return f"{self.count} x {self.left_ml:.0f} ml {self.sheet}"
