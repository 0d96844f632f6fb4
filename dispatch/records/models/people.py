"""Accounts, people, what they may do and when they are there."""

from django.contrib.auth.models import AbstractUser
from django.db import models
from django.db.models import F, Q


class Person(models.Model):
    """Somebody who works: named on the board, rides in vans, holds skills."""

    key = models.SlugField(max_length=40, unique=True)
    name = models.CharField(max_length=80)
    initials = models.CharField(max_length=4)
    phone = models.CharField(max_length=20, blank=True)
    email = models.EmailField(blank=True)
    drives = models.BooleanField(default=False)
    tows = models.BooleanField(default=False)
    born = models.DateField(null=True, blank=True)
    not_alone = models.BooleanField(
        default=False, help_text="A trainee: never a team of one."
    )
    cents_per_hour = models.PositiveIntegerField(default=3800)
    week_regular_minutes = models.PositiveIntegerField(default=2400)
    active = models.BooleanField(default=True)
    text_consent = models.BooleanField(default=False)
    email_consent = models.BooleanField(default=False)
    text_stopped_at = models.DateTimeField(
        null=True, blank=True, help_text="When STOP came in; no texts since."
    )

    class Meta:
        ordering = ("name",)
        constraints = (
            models.CheckConstraint(
                condition=Q(tows=False) | Q(drives=True),
                name="person_tows_only_if_drives",
            ),
        )

    def __str__(self) -> str:
        return self.name


class Account(AbstractUser):
    """A sign-in: the owner's, or a crew member's."""

    class Role(models.TextChoices):
        """What the sign-in opens."""

        OWNER = "owner", "Owner"
        CREW = "crew", "Crew"

    role = models.CharField(max_length=10, choices=Role.choices, default=Role.CREW)
    person = models.OneToOneField(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="account"
    )
    looked_at = models.DateTimeField(
        null=True,
        blank=True,
        help_text="When they last said that they had seen what changed.",
    )

    class Meta(AbstractUser.Meta):
        constraints = (
            models.CheckConstraint(
                condition=Q(role="owner")
                | Q(person__isnull=False)
                | Q(is_superuser=True),
                name="account_crew_is_a_person",
            ),
        )

    def __str__(self) -> str:
        return self.username


class Skill(models.Model):
    """One skill of one person at a level, with the date a fit test runs out where one is needed."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="skills")
    name = models.SlugField(max_length=30)
    level = models.PositiveSmallIntegerField(default=1)
    fit_test_until = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ("person", "name")
        constraints = (
            models.UniqueConstraint(
                fields=("person", "name"), name="skill_once_per_person"
            ),
            models.CheckConstraint(
                condition=Q(level__gte=1, level__lte=3), name="skill_level_1_to_3"
            ),
        )

    def __str__(self) -> str:
        return f"{self.person} {self.name} {self.level}"


class Duty(models.Model):
    """The hours of one weekday (Monday is 0) in which a person may be away from base."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="duties")
    weekday = models.PositiveSmallIntegerField()
    start = models.TimeField()
    end = models.TimeField()

    class Meta:
        ordering = ("person", "weekday")
        constraints = (
            models.UniqueConstraint(
                fields=("person", "weekday"), name="duty_once_a_weekday"
            ),
            models.CheckConstraint(
                condition=Q(weekday__lte=6), name="duty_weekday_0_to_6"
            ),
            models.CheckConstraint(
                condition=Q(end__gt=F("start")), name="duty_ends_after_start"
            ),
        )

    def __str__(self) -> str:
        return f"{self.person} {self.weekday} {self.start:%H:%M}-{self.end:%H:%M}"


class DayOff(models.Model):
    """A date on which a person is away, or has other hours (one span a day)."""

    person = models.ForeignKey(
        Person, on_delete=models.CASCADE, related_name="days_off"
    )
    on = models.DateField()
    start = models.TimeField(
        null=True, blank=True, help_text="Present from, where the day is shortened."
    )
    end = models.TimeField(
        null=True, blank=True, help_text="Present until, where the day is shortened."
    )
    reason = models.CharField(max_length=80, blank=True)

    class Meta:
        ordering = ("on",)
        constraints = (
            models.UniqueConstraint(
                fields=("person", "on"), name="day_off_once_a_date"
            ),
            models.CheckConstraint(
                condition=Q(start__isnull=True, end__isnull=True)
                | Q(end__gt=F("start")),
                name="day_off_both_hours_or_none",
            ),
        )

    def __str__(self) -> str:
        return f"{self.person} {self.on}"


class KeptApart(models.Model):
    """Two people who are never put in one team."""

    first = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="+")
    second = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="+")

    class Meta:
        verbose_name_plural = "kept apart"
        constraints = (
            models.UniqueConstraint(fields=("first", "second"), name="kept_apart_once"),
            models.CheckConstraint(
                condition=~Q(first=F("second")), name="kept_apart_two_people"
            ),
        )

    def __str__(self) -> str:
        return f"{self.first} / {self.second}"
