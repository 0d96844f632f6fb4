"""Jobs and the stages they are made of."""

from django.db import models
from django.db.models import Q

from dispatch.records.models.boats import Boat
from dispatch.records.models.catalogue import JobKind
from dispatch.records.models.sheets import Sheet


class Recurring(models.Model):
    """Work that comes again every so many days; each time is a job of its own."""

    boat = models.ForeignKey(Boat, on_delete=models.CASCADE, related_name="recurring")
    kind = models.ForeignKey(JobKind, on_delete=models.PROTECT, related_name="+")
    every_days = models.PositiveSmallIntegerField()
    slack_days = models.PositiveSmallIntegerField(
        default=3, help_text="Days before and after that are as good."
    )
    next_on = models.DateField()
    grade = models.PositiveSmallIntegerField(default=1)
    price_cents = models.PositiveIntegerField(default=0)
    active = models.BooleanField(default=True)

    class Meta:
        ordering = ("next_on", "id")
        constraints = (
            models.CheckConstraint(
                condition=Q(every_days__gte=2, slack_days__lt=models.F("every_days")),
                name="recurring_slack_under_its_days",
            ),
            models.CheckConstraint(
                condition=Q(grade__gte=1, grade__lte=4), name="recurring_grade_1_to_4"
            ),
        )

    def __str__(self) -> str:
        return f"{self.boat.name} every {self.every_days} days"


class Job(models.Model):
    """Work agreed for one boat."""

    class State(models.TextChoices):
        """How far the job is, as the owner says it."""

        ASKED = "asked", "Asked for"
        AGREED = "agreed", "Agreed"
        IN_HAND = "in-hand", "In hand"
        HANDED_BACK = "handed-back", "Handed back"
        PUT_OFF = "put-off", "Put off"
        CALLED_OFF = "called-off", "Called off"

    class Promise(models.TextChoices):
        """What the customer was promised."""

        NONE = "none", "No day promised"
        RANGE = "range", "A range of days"
        HARD = "hard", "A hard date"

    key = models.SlugField(max_length=40, unique=True)
    boat = models.ForeignKey(Boat, on_delete=models.PROTECT, related_name="jobs")
    kind = models.ForeignKey(JobKind, on_delete=models.PROTECT, related_name="jobs")
    sheet = models.ForeignKey(
        Sheet, null=True, blank=True, on_delete=models.PROTECT, related_name="jobs"
    )
    grade = models.PositiveSmallIntegerField(default=2)
    repairs = models.JSONField(
        default=dict, help_text='Counts by size, as {"S": 0, "M": 1, "L": 0}.'
    )
    panels = models.PositiveSmallIntegerField(
        default=0, help_text="Panels to be put right, where only some are."
    )
    sides_only = models.BooleanField(
        default=False, help_text="Neither transom nor top rail."
    )
    state = models.CharField(max_length=12, choices=State.choices, default=State.AGREED)
    promise = models.CharField(
        max_length=8, choices=Promise.choices, default=Promise.NONE
    )
    promised_from = models.DateTimeField(null=True, blank=True)
    promised_by = models.DateTimeField(null=True, blank=True)
    fixed_start = models.DateTimeField(
        null=True, blank=True, help_text="A lift slot: to the minute."
    )
    price_cents = models.PositiveIntegerField(default=0)
    late_cents_per_hour = models.PositiveIntegerField(default=300)
    finish_cents_per_hour = models.PositiveIntegerField(default=10)
    unfinished_cents = models.PositiveIntegerField(default=0)
    bumped = models.PositiveSmallIntegerField(
        default=0, help_text="Times bumped this season."
    )
    note = models.TextField(blank=True)
    recurring = models.ForeignKey(
        Recurring,
        null=True,
        blank=True,
        on_delete=models.SET_NULL,
        related_name="jobs",
        help_text="What it came of, where it comes again and again.",
    )
    taken_at = models.DateTimeField()
    handed_back_at = models.DateTimeField(null=True, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ("key",)
        constraints = (
            models.CheckConstraint(
                condition=Q(grade__gte=1, grade__lte=4), name="job_grade_1_to_4"
            ),
            models.CheckConstraint(
                condition=Q(promise="none") | Q(promised_by__isnull=False),
                name="job_promise_has_a_day",
            ),
        )

    def __str__(self) -> str:
        return f"{self.boat.name} ({self.key.upper()})"


class Stage(models.Model):
    """One visit's worth of a job: who can do it in how long, and what it needs."""

    class State(models.TextChoices):
        """How far the stage is."""

        TO_DO = "to-do", "To do"
        UNDER_WAY = "under-way", "Under way"
        DONE = "done", "Done"

    class Cover(models.TextChoices):
        """What stands between the boat and the sky."""

        OPEN = "open", "Open"
        SCREENS = "screens", "Side-screens"
        ROOF = "roof", "Roof"

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="stages")
    key = models.SlugField(max_length=40)
    name = models.CharField(max_length=120)
    position = models.PositiveSmallIntegerField()
    variant = models.SlugField(
        max_length=30, blank=True, help_text="The way of doing the job it belongs to."
    )
    extra = models.BooleanField(default=False)
    family = models.SlugField(max_length=20)
    panels = models.JSONField(default=list)
    cover = models.CharField(max_length=8, choices=Cover.choices, default=Cover.OPEN)
    heading_true_deg = models.FloatField(null=True, blank=True)
    steps = models.JSONField(
        default=list,
        help_text='The catalogue rows in it: [{"name", "labour_minutes"}], with what is left and waited for where one holds.',
    )
    minutes = models.JSONField(
        default=dict,
        help_text='Minutes of hands on by team size: {"2": 130}; waits not counted.',
    )
    flashes = models.PositiveSmallIntegerField(
        default=0, help_text="Waits between coats inside the visit."
    )
    needs = models.JSONField(default=list, help_text='[{"skill", "level", "count"}].')
    gear = models.JSONField(default=list)
    supplies = models.JSONField(default=dict)
    equipment = models.JSONField(
        default=list, help_text='[{"kind", "until": "visit" or "rain-safe"}].'
    )
    sheet = models.ForeignKey(
        Sheet, null=True, blank=True, on_delete=models.PROTECT, related_name="stages"
    )
    product_ml = models.FloatField(default=0)
    pausable = models.BooleanField(default=True)
    drop_cents = models.PositiveIntegerField(default=500)
    fixed_start = models.DateTimeField(
        null=True, blank=True, help_text="It starts at this minute, or not at all."
    )
    state = models.CharField(max_length=10, choices=State.choices, default=State.TO_DO)
    started_at = models.DateTimeField(null=True, blank=True)
    ended_at = models.DateTimeField(null=True, blank=True)
    laid_anew_by = models.ForeignKey(
        "self",
        null=True,
        blank=True,
        on_delete=models.CASCADE,
        related_name="too_late",
        help_text="The stage that lays both coats anew, where the second one here came too late.",
    )

    class Meta:
        ordering = ("job", "position")
        constraints = (
            models.UniqueConstraint(fields=("job", "key"), name="stage_key_once_a_job"),
            models.CheckConstraint(
                condition=~Q(state="done") | Q(ended_at__isnull=False),
                name="stage_done_has_an_end",
            ),
        )

    def __str__(self) -> str:
        return f"{self.job.key}.{self.key}"


class Laid(models.Model):
    """A coat that was laid: when it ended and, where somebody measured it, how much it took.

    ``coat`` is 1 or 2; 0 is both of a visit whose coats nobody reported one by one.
    """

    stage = models.ForeignKey(Stage, on_delete=models.CASCADE, related_name="laid")
    coat = models.PositiveSmallIntegerField()
    ended_at = models.DateTimeField()
    used_ml = models.FloatField(null=True, blank=True)

    class Meta:
        ordering = ("stage", "coat")
        constraints = (
            models.UniqueConstraint(fields=("stage", "coat"), name="laid_once_a_coat"),
            models.CheckConstraint(condition=Q(coat__lte=2), name="laid_coat_0_to_2"),
            models.CheckConstraint(
                condition=Q(used_ml__isnull=True) | Q(used_ml__gte=0),
                name="laid_used_not_negative",
            ),
        )

    def __str__(self) -> str:
        return f"{self.stage} coat {self.coat}"


class StageLink(models.Model):
    """One stage comes after another: at least, and at most, so long after its end.

    A wait is in minutes, or in hours of cure at the sheet's reference temperature (``ref_h``).
    """

    stage = models.ForeignKey(Stage, on_delete=models.CASCADE, related_name="links")
    before = models.ForeignKey(
        Stage, on_delete=models.CASCADE, related_name="followers"
    )
    min_minutes = models.PositiveIntegerField(default=0)
    min_ref_h = models.FloatField(null=True, blank=True)
    cure_min_c = models.FloatField(
        null=True, blank=True, help_text="Below this the cure stands still."
    )
    max_minutes = models.PositiveIntegerField(null=True, blank=True)
    same_van_day = models.BooleanField(default=False)

    class Meta:
        constraints = (
            models.UniqueConstraint(fields=("stage", "before"), name="stage_link_once"),
            models.CheckConstraint(
                condition=~Q(stage=models.F("before")), name="stage_link_two_stages"
            ),
        )

    def __str__(self) -> str:
        return f"{self.stage} after {self.before}"
