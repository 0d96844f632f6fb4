"""The outfit itself, its settings, its plugins, and slow work that is due."""

from django.db import models
from django.db.models import Q

from dispatch.records.models.people import Person


class Outfit(models.Model):
    """The one outfit this house serves."""

    class Units(models.TextChoices):
        """Units that people read and write."""

        US = "us", "Feet, ounces, F, mph"
        METRIC = "metric", "Metres, millilitres, C, m/s"

    name = models.CharField(max_length=120)
    town = models.CharField(max_length=80, blank=True)
    time_zone = models.CharField(max_length=60)
    units = models.CharField(max_length=8, choices=Units.choices, default=Units.US)
    address = models.CharField(
        max_length=300, blank=True, help_text="Postal, in lines; invoices carry it."
    )
    phone = models.CharField(max_length=20, blank=True, help_text="E.164.")
    email = models.EmailField(blank=True)
    tax_number = models.CharField(max_length=40, blank=True)
    pay_how = models.CharField(
        max_length=400,
        blank=True,
        help_text="How customers pay, in lines; invoices carry it.",
    )
    care = models.CharField(
        max_length=300,
        blank=True,
        help_text="What a new finish asks for in its first days, in lines; told on hand-back.",
    )
    stands_at = models.DateTimeField(
        null=True,
        blank=True,
        help_text="The demo's own clock: it stands at this moment until it is moved.",
    )
    still_since = models.DateTimeField(
        null=True,
        blank=True,
        help_text="Since when every move and message is held; empty where they go on.",
    )
    still_why = models.CharField(max_length=400, blank=True)

    class Meta:
        constraints = (
            models.CheckConstraint(condition=Q(id=1), name="outfit_only_one"),
        )

    def __str__(self) -> str:
        return self.name


class Setting(models.Model):
    """A rate or limit that differs from its default."""

    name = models.CharField(max_length=60, unique=True)
    value = models.FloatField()

    class Meta:
        ordering = ("name",)

    def __str__(self) -> str:
        return f"{self.name} = {self.value}"


class PluginState(models.Model):
    """Whether a plugin is enabled, with which options, and how it has behaved."""

    name = models.SlugField(max_length=60, unique=True)
    enabled = models.BooleanField(default=False)
    options = models.JSONField(default=dict)
    strikes = models.JSONField(
        default=list, help_text="Moments of its late failures, ISO 8601."
    )
    resting_until = models.DateTimeField(null=True, blank=True)
    last_fault = models.TextField(blank=True)
    last_good_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("name",)

    def __str__(self) -> str:
        return self.name


class Feed(models.Model):
    """A person's visits as a plugin wrote them, served to whoever has the word in the address."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="feeds")
    plugin = models.SlugField(max_length=60)
    word = models.CharField(max_length=60, unique=True)
    media_type = models.CharField(max_length=40, blank=True)
    filename = models.CharField(max_length=61, blank=True)
    text = models.TextField(blank=True, help_text="Empty until it is first written.")
    written_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("plugin",)
        constraints = (
            models.UniqueConstraint(
                fields=("person", "plugin"), name="feed_once_a_plugin"
            ),
        )

    def __str__(self) -> str:
        return f"{self.person} by {self.plugin}"


class DueWork(models.Model):
    """Slow work an action left behind, for a task to claim."""

    verb = models.SlugField(max_length=40)
    key = models.CharField(max_length=80)
    due_at = models.DateTimeField()
    claimed_at = models.DateTimeField(null=True, blank=True)
    done_at = models.DateTimeField(null=True, blank=True)
    attempts = models.PositiveSmallIntegerField(default=0)
    fault = models.TextField(blank=True)

    class Meta:
        ordering = ("due_at", "id")
        constraints = (
            models.UniqueConstraint(
                fields=("verb", "key"),
                condition=Q(done_at__isnull=True, claimed_at__isnull=True),
                name="due_work_once",
            ),
        )

    def __str__(self) -> str:
        return f"{self.verb} {self.key}"
