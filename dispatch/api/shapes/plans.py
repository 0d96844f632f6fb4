"""Weeks and their plans: money in whole cents, times aware, things by their keys."""

from typing import Any

from rest_framework import serializers

from dispatch.records.models import WeekPlan


class Cost(serializers.Serializer[Any]):
    """The parts of a plan's cost and their total."""

    wages = serializers.IntegerField()
    vans = serializers.IntegerField()
    late = serializers.IntegerField()
    finish = serializers.IntegerField()
    risk = serializers.IntegerField()
    dropped = serializers.IntegerField()
    moved = serializers.IntegerField()
    total = serializers.IntegerField()


class Progress(serializers.Serializer[Any]):
    """The planner's last line, or whose sky is waited for; of a plan that is built, whose sky was not judged by then."""

    phase = serializers.CharField()
    cost = serializers.IntegerField(allow_null=True)
    bound = serializers.IntegerField(allow_null=True)
    steps = serializers.IntegerField(allow_null=True)
    boats = serializers.ListField(
        child=serializers.CharField(),
        help_text="In the phase `sky`: the boats whose sky is still being judged.",
    )
    unjudged = serializers.ListField(
        child=serializers.CharField(),
        help_text="The boats left out because their sky was not judged yet.",
    )


class Reason(serializers.Serializer[Any]):
    """Why a draft is posted although it breaks a rule of the house; empty where it breaks none."""

    why = serializers.CharField(required=False, allow_blank=True, max_length=400)


class LeftOut(serializers.Serializer[Any]):
    """A stage without a visit: a code for machines, a sentence for people."""

    stage = serializers.CharField()
    boat = serializers.CharField()
    name = serializers.CharField()
    code = serializers.CharField()
    why = serializers.CharField()


class AskRest(serializers.Serializer[Any]):
    """Having what is left of a standing week planned anew: what led to it, and how long to search."""

    cause = serializers.CharField(required=False, allow_blank=True, max_length=600)
    seconds = serializers.IntegerField(required=False, min_value=1, max_value=60)
    seed = serializers.IntegerField(required=False, min_value=0, max_value=2**31 - 1)


class Plan(serializers.Serializer[Any]):
    """A plan in short; cost, bound and unplaced are there once it is built."""

    id = serializers.IntegerField()
    week = serializers.DateField()
    state = serializers.ChoiceField(choices=WeekPlan.State.choices)
    fault = serializers.CharField(
        allow_blank=True, help_text="Why it could not be built."
    )
    asked_at = serializers.DateTimeField()
    asked_by = serializers.CharField(allow_null=True)
    built_at = serializers.DateTimeField(allow_null=True)
    posted_at = serializers.DateTimeField(allow_null=True)
    seconds = serializers.IntegerField()
    seed = serializers.IntegerField()
    on_version = serializers.IntegerField()
    stop_asked = serializers.BooleanField()
    progress = Progress(allow_null=True)
    cost = Cost(allow_null=True)
    bound = serializers.IntegerField(
        allow_null=True, help_text="No plan can cost less; null where not known."
    )
    unplaced = LeftOut(many=True)


class Visit(serializers.Serializer[Any]):
    """One stage, done by a van's team."""

    stage = serializers.CharField()
    boat = serializers.CharField()
    name = serializers.CharField()
    start = serializers.DateTimeField()
    end = serializers.DateTimeField()


class Tow(serializers.Serializer[Any]):
    """A piece of equipment moved between two places."""

    equipment = serializers.CharField()
    origin = serializers.CharField()
    destination = serializers.CharField()
    start = serializers.DateTimeField()
    end = serializers.DateTimeField()


class VanDay(serializers.Serializer[Any]):
    """A van's day: who rides, when it leaves and is back, and its stops in order."""

    van = serializers.CharField()
    on = serializers.DateField()
    team = serializers.ListField(child=serializers.CharField())
    depart = serializers.DateTimeField()
    back = serializers.DateTimeField()
    break_start = serializers.DateTimeField(allow_null=True)
    break_end = serializers.DateTimeField(allow_null=True)
    visits = Visit(many=True)
    tows = Tow(many=True)


class WholePlan(Plan):
    """A plan with all its van-days."""

    chosen = serializers.DictField(
        child=serializers.CharField(),
        help_text="The way each job is done, where it has several.",
    )
    van_days = VanDay(many=True)


class Week(serializers.Serializer[Any]):
    """Days that are planned together; the version counts what was posted."""

    starts_on = serializers.DateField()
    days = serializers.IntegerField()
    version = serializers.IntegerField()
    standing = serializers.IntegerField(
        allow_null=True, help_text="The id of the standing plan."
    )


class WholeWeek(Week):
    """A week with its plans, the newest first."""

    plans = Plan(many=True)


class Ask(serializers.Serializer[Any]):
    """How long the planner may search, and from which seed."""

    seconds = serializers.IntegerField(min_value=1, max_value=600, default=20)
    seed = serializers.IntegerField(min_value=0, max_value=2**31 - 1, default=1)
