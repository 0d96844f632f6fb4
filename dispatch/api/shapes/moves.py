"""What holds a visit, and what another day would cost: money in whole cents, times aware."""

from typing import Any

from rest_framework import serializers


class Bound(serializers.Serializer[Any]):
    """One thing that bounds a visit's start."""

    code = serializers.CharField()
    at = serializers.DateTimeField(help_text="The start it allows.")
    minutes = serializers.IntegerField(
        help_text="How far that is from the start; 0 binds."
    )
    sentence = serializers.CharField()
    wish = serializers.BooleanField(
        help_text="Going beyond costs money, but no rule forbids it."
    )


class Holds(serializers.Serializer[Any]):
    """A visit and what holds it, the nearest first; minutes it could move with all else as it stands."""

    start = serializers.DateTimeField(source="span.start")
    end = serializers.DateTimeField(source="span.end")
    on = serializers.DateField()
    sooner = serializers.IntegerField()
    later = serializers.IntegerField()
    before = Bound(many=True)
    after = Bound(many=True)


class Price(serializers.Serializer[Any]):
    """The visit on another day: what the week costs more, or why it cannot be there."""

    on = serializers.DateField()
    start = serializers.DateTimeField(
        source="span.start", allow_null=True, default=None
    )
    end = serializers.DateTimeField(source="span.end", allow_null=True, default=None)
    cents = serializers.IntegerField(
        allow_null=True, help_text="Below 0: the week costs less. Null: it cannot be."
    )
    lost = serializers.ListField(
        child=serializers.CharField(), help_text="Stages that would lose their visit."
    )
    why_not = serializers.CharField(allow_blank=True)


class Moves(serializers.Serializer[Any]):
    """What holds a stage's visit (null where it has none), and each day to come with its price."""

    holds = Holds(allow_null=True)
    days = Price(many=True)


class Move(serializers.Serializer[Any]):
    """The day to move a visit to."""

    on = serializers.DateField()
