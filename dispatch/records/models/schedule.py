"""Weeks, their drafts and the standing plan, as rows people can be told from."""

from django.db import models
from django.db.models import F, Q

from dispatch.records.models.fleet import Equipment, Van
from dispatch.records.models.people import Account, Person
from dispatch.records.models.places import Place
from dispatch.records.models.work import Job, Stage


class Week(models.Model):
    """Some days in a row that are planned together; the version counts what was posted."""

    starts_on = models.DateField(unique=True)
    days = models.PositiveSmallIntegerField(default=7)
    version = models.PositiveIntegerField(default=0)
    edits = models.PositiveIntegerField(
        default=0, help_text="Counts changes made by hand, so that two never cross."
    )

    class Meta:
        ordering = ("starts_on",)
        constraints = (
            models.CheckConstraint(
                condition=Q(days__gte=1, days__lte=14), name="week_1_to_14_days"
            ),
        )

    def __str__(self) -> str:
        return f"week of {self.starts_on}"


class WeekPlan(models.Model):
    """One plan of a week, from the moment it is asked for until another takes its place."""

    class State(models.TextChoices):
        """How far the plan is."""

        ASKED = "asked", "Asked for"
        BUILDING = "building", "Being built"
        DRAFT = "draft", "Draft"
        LEFT = "left", "A draft left aside"
        STANDING = "standing", "Standing"
        PAST = "past", "Replaced"
        FAILED = "failed", "Could not be built"

    week = models.ForeignKey(Week, on_delete=models.CASCADE, related_name="plans")
    state = models.CharField(max_length=10, choices=State.choices, default=State.ASKED)
    asked_by = models.ForeignKey(
        Account, null=True, on_delete=models.SET_NULL, related_name="+"
    )
    asked_at = models.DateTimeField()
    built_at = models.DateTimeField(null=True, blank=True)
    posted_at = models.DateTimeField(null=True, blank=True)
    seconds = models.PositiveSmallIntegerField(default=20)
    seed = models.PositiveIntegerField(default=1)
    on_version = models.PositiveIntegerField(
        default=0, help_text="The week's version it was built on."
    )
    zero_at = models.DateTimeField(
        null=True, help_text="The moment that is minute 0 of the problem."
    )
    problem = models.JSONField(default=dict)
    plan = models.JSONField(default=dict)
    progress = models.JSONField(default=dict)
    stop_asked = models.BooleanField(default=False)
    fault = models.TextField(blank=True)
    origin = models.ForeignKey(
        "self",
        null=True,
        blank=True,
        on_delete=models.SET_NULL,
        related_name="made_of_it",
        help_text="The plan it was made from: of what is left of it, or by hand.",
    )
    rest = models.BooleanField(
        default=False, help_text="Only what was left of a standing week was planned."
    )
    cause = models.TextField(blank=True, help_text="What led to it, as a sentence.")
    by_hand = models.TextField(
        blank=True, help_text="The change made by hand, as a sentence."
    )

    class Meta:
        ordering = ("week", "-asked_at")
        constraints = (
            models.UniqueConstraint(
                fields=("week",),
                condition=Q(state="standing"),
                name="week_plan_one_standing",
            ),
            models.UniqueConstraint(
                fields=("week",),
                condition=Q(state__in=("asked", "building")),
                name="week_plan_one_at_work",
            ),
        )

    def __str__(self) -> str:
        return f"{self.week} {self.state} {self.asked_at:%H:%M}"


class VanDay(models.Model):
    """One van's day of a standing plan: who rides, when it leaves and is back."""

    plan = models.ForeignKey(
        WeekPlan, on_delete=models.CASCADE, related_name="van_days"
    )
    van = models.ForeignKey(Van, on_delete=models.PROTECT, related_name="van_days")
    on = models.DateField()
    team = models.ManyToManyField(Person, related_name="van_days")
    depart = models.DateTimeField()
    back = models.DateTimeField()
    break_start = models.DateTimeField(null=True, blank=True)
    break_end = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("on", "depart")
        constraints = (
            models.UniqueConstraint(fields=("plan", "van", "on"), name="van_day_once"),
            models.CheckConstraint(
                condition=Q(back__gte=F("depart")), name="van_day_back_after_depart"
            ),
        )

    def __str__(self) -> str:
        return f"{self.van} {self.on}"


class Visit(models.Model):
    """A stage in the standing plan: when, by which van-day, and what the sky says of it."""

    class Sky(models.TextChoices):
        """Whether the sky allows it, by the newest forecast."""

        ALLOWS = "allows", "The sky allows it"
        FORBIDS = "forbids", "The sky forbids it"
        UNKNOWN = "unknown", "Not known"

    stage = models.OneToOneField(Stage, on_delete=models.CASCADE, related_name="visit")
    van_day = models.ForeignKey(VanDay, on_delete=models.CASCADE, related_name="visits")
    start = models.DateTimeField()
    end = models.DateTimeField()
    spoilt = models.TextField(
        blank=True,
        help_text="Why the sky forbids it or is not known, with the numbers; empty where it allows it.",
    )
    sky_says = models.CharField(max_length=8, choices=Sky.choices, default=Sky.UNKNOWN)

    class Meta:
        ordering = ("start",)
        constraints = (
            models.CheckConstraint(
                condition=Q(end__gt=F("start")), name="visit_ends_after_start"
            ),
        )

    def __str__(self) -> str:
        return f"{self.stage} {self.start:%Y-%m-%d %H:%M}"


class Tow(models.Model):
    """A move of equipment from one place to another."""

    van_day = models.ForeignKey(VanDay, on_delete=models.CASCADE, related_name="tows")
    equipment = models.ForeignKey(
        Equipment, on_delete=models.PROTECT, related_name="tows"
    )
    origin = models.ForeignKey(Place, on_delete=models.PROTECT, related_name="+")
    destination = models.ForeignKey(Place, on_delete=models.PROTECT, related_name="+")
    start = models.DateTimeField()
    end = models.DateTimeField()

    class Meta:
        ordering = ("start",)
        constraints = (
            models.CheckConstraint(
                condition=Q(end__gte=F("start")), name="tow_ends_after_start"
            ),
        )

    def __str__(self) -> str:
        return f"{self.equipment} {self.origin} to {self.destination}"


class Pin(models.Model):
    """A stage the owner holds to a van and a moment."""

    stage = models.OneToOneField(Stage, on_delete=models.CASCADE, related_name="pin")
    van = models.ForeignKey(Van, on_delete=models.CASCADE, related_name="pins")
    start = models.DateTimeField()
    by = models.ForeignKey(
        Account, null=True, on_delete=models.SET_NULL, related_name="+"
    )

    def __str__(self) -> str:
        return f"{self.stage} pinned {self.start:%Y-%m-%d %H:%M}"


class Bump(models.Model):
    """A job the owner leaves out of a week."""

    week = models.ForeignKey(Week, on_delete=models.CASCADE, related_name="bumps")
    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="bumps")
    why = models.CharField(max_length=400)
    at = models.DateTimeField()
    by = models.ForeignKey(
        Account, null=True, on_delete=models.SET_NULL, related_name="+"
    )

    class Meta:
        ordering = ("at",)
        constraints = (
            models.UniqueConstraint(fields=("week", "job"), name="bump_once_a_week"),
        )

    def __str__(self) -> str:
        return f"{self.job} not in {self.week}"


class Hold(models.Model):
    """A film that sets: from its last coat to rain-safe or sandable, with a range."""

    class Kind(models.TextChoices):
        """What the film is waiting to be."""

        RAIN_SAFE = "rain-safe", "Rain-safe"
        SANDABLE = "sandable", "Sandable"

    stage = models.ForeignKey(Stage, on_delete=models.CASCADE, related_name="holds")
    kind = models.CharField(max_length=10, choices=Kind.choices)
    planned = models.BooleanField(
        help_text="From the plan; false once the coat is laid."
    )
    start = models.DateTimeField()
    end = models.DateTimeField(
        null=True, help_text="Empty where it will not set by this forecast."
    )
    earliest = models.DateTimeField(null=True)
    latest = models.DateTimeField(null=True)

    class Meta:
        ordering = ("stage", "start")
        constraints = (
            models.UniqueConstraint(fields=("stage", "kind"), name="hold_once_a_kind"),
            models.CheckConstraint(
                condition=Q(end__isnull=True) | Q(end__gte=F("start")),
                name="hold_ends_later",
            ),
        )

    def __str__(self) -> str:
        return f"{self.stage} {self.kind}"
