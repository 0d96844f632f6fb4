"""Customers, their boats, and photos of them."""

from django.db import models
from django.db.models import Q

from dispatch.records.models.places import Place


class Customer(models.Model):
    """Who owns a boat, how they may be told things, and what they agreed to."""

    name = models.CharField(max_length=80)
    phone = models.CharField(
        max_length=20, blank=True, help_text="E.164, as +12075550123."
    )
    email = models.EmailField(blank=True)
    address = models.CharField(
        max_length=300, blank=True, help_text="Postal, in lines; invoices carry it."
    )
    time_zone = models.CharField(max_length=60)
    text_consent = models.BooleanField(default=False)
    email_consent = models.BooleanField(default=False)
    text_stopped_at = models.DateTimeField(
        null=True, blank=True, help_text="When STOP came in; no texts since."
    )

    class Meta:
        ordering = ("name",)

    def __str__(self) -> str:
        return self.name


class Boat(models.Model):
    """A boat and how she lies."""

    class HeadingReference(models.TextChoices):
        """What north the heading was read against."""

        TRUE = "true", "True"
        MAGNETIC = "magnetic", "Magnetic (compass)"

    key = models.SlugField(max_length=40, unique=True)
    name = models.CharField(max_length=80)
    customer = models.ForeignKey(
        Customer, on_delete=models.PROTECT, related_name="boats"
    )
    length_m = models.FloatField()
    beam_m = models.FloatField(null=True, blank=True)
    freeboard_m = models.FloatField(null=True, blank=True)
    make = models.CharField(
        max_length=80, blank=True, help_text="Her maker and model, as people call it."
    )
    shape = models.SlugField(max_length=30, default="centre-console")
    hull_colour = models.CharField(max_length=30, default="white")
    dark = models.BooleanField(default=False)
    registration = models.CharField(max_length=20, blank=True)
    hull_number = models.CharField(
        max_length=20,
        blank=True,
        help_text="Her hull identification number, as it stands at the transom.",
    )
    place = models.ForeignKey(Place, on_delete=models.PROTECT, related_name="boats")
    berth = models.CharField(max_length=80, blank=True)
    heading_deg = models.FloatField(null=True, blank=True)
    heading_reference = models.CharField(
        max_length=10, choices=HeadingReference.choices, default=HeadingReference.TRUE
    )
    heading_read_on = models.DateField(null=True, blank=True)
    on_trailer = models.BooleanField(default=False)
    turned_heading_deg = models.FloatField(
        null=True, blank=True, help_text="True heading she may be turned to."
    )

    class Meta:
        ordering = ("name",)
        constraints = (
            models.CheckConstraint(
                condition=Q(length_m__gt=2, length_m__lt=60),
                name="boat_length_2_to_60_m",
            ),
            models.CheckConstraint(
                condition=Q(heading_deg__isnull=True)
                | Q(heading_deg__gte=0, heading_deg__lt=360),
                name="boat_heading_0_to_360",
            ),
        )

    def __str__(self) -> str:
        return self.name


class Photo(models.Model):
    """A photo of a boat; the picture itself lies in a file of the data folder."""

    class Kind(models.TextChoices):
        """What sort of picture it is, by its first bytes."""

        JPEG = "jpeg", "JPEG"
        PNG = "png", "PNG"
        WEBP = "webp", "WebP"

    boat = models.ForeignKey(Boat, on_delete=models.CASCADE, related_name="photos")
    file = models.CharField(max_length=60, unique=True)
    kind = models.CharField(max_length=8, choices=Kind.choices)
    size_bytes = models.PositiveIntegerField()
    words = models.CharField(max_length=120, blank=True)
    taken_at = models.DateTimeField()

    class Meta:
        ordering = ("-taken_at", "-id")

    def __str__(self) -> str:
        return f"{self.boat} {self.taken_at:%Y-%m-%d}"
