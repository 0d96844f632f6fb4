"""Changes of a week by hand: what is asked, and what it would do. Money in whole cents, times aware, things by their keys."""

from typing import Any

from rest_framework import serializers

_WHY = "Kept with the week and told in its history."


class Put(serializers.Serializer[Any]):
    """Where a visit is to be: a van and the moment it starts; the team where that van has none that day."""

    van = serializers.SlugField(max_length=60)
    start = serializers.DateTimeField()
    team = serializers.ListField(
        child=serializers.SlugField(max_length=60),
        required=False,
        max_length=12,
        help_text="Keys of people; none where the van has a team that day.",
    )


class Swap(serializers.Serializer[Any]):
    """One person rides a van's day in another's stead."""

    van = serializers.SlugField(max_length=60)
    on = serializers.DateField()
    out = serializers.SlugField(max_length=60, help_text="Who does not ride then.")
    into = serializers.SlugField(max_length=60, help_text="Who rides instead.")


class Answer(serializers.Serializer[Any]):
    """What a change would do: whether it fits, what the week costs more, what slides, what falls out, or what binds."""

    fits = serializers.BooleanField()
    sentence = serializers.CharField()
    cents = serializers.IntegerField(help_text="Below 0: the week costs less.")
    slides = serializers.ListField(child=serializers.CharField())
    lost = serializers.ListField(child=serializers.CharField())
    why_not = serializers.ListField(child=serializers.CharField())


class LeaveOut(serializers.Serializer[Any]):
    """A job to leave out of a week, and why."""

    job = serializers.SlugField(max_length=60)
    why = serializers.CharField(max_length=400, help_text=_WHY)


class TakeIn(serializers.Serializer[Any]):
    """A job that was left out by hand, to be planned in that week again."""

    job = serializers.SlugField(max_length=60)


class Bumps(serializers.Serializer[Any]):
    """The jobs left out of a week by hand."""

    left_out = LeaveOut(many=True)


class Fast(serializers.Serializer[Any]):
    """A visit made fast: no plan moves it until it is cast off."""

    stage = serializers.CharField()
    van = serializers.CharField(source="van.key")
    start = serializers.DateTimeField()


class Why(serializers.Serializer[Any]):
    """The reason for holding everything still."""

    why = serializers.CharField(max_length=400, help_text=_WHY)


class Still(serializers.Serializer[Any]):
    """Whether everything is held still: no plan is taken and no message leaves. Since when and why, where it is."""

    since = serializers.DateTimeField(allow_null=True)
    why = serializers.CharField(allow_blank=True)


class Overrule(serializers.Serializer[Any]):
    """A rule that stands against a posted visit, by its code, and why it may be so all the same."""

    code = serializers.SlugField(max_length=60)
    why = serializers.CharField(max_length=400, help_text=_WHY)


class Overruled(serializers.Serializer[Any]):
    """What was overruled, by whom and why; ``start`` to ``end`` is where it holds."""

    id = serializers.IntegerField(source="pk")
    code = serializers.CharField()
    sentence = serializers.CharField()
    who = serializers.CharField()
    why = serializers.CharField()
    start = serializers.DateTimeField()
    end = serializers.DateTimeField()
