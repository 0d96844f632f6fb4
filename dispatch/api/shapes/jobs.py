"""Jobs and boats: things by their keys, lengths in metres, product in millilitres."""

import re
from typing import Any

from rest_framework import serializers

from dispatch.records.models import Boat, Job, JobKind, Sheet, Stage, Veto, Visit


class BoatShape(serializers.Serializer[Any]):
    """A boat, where and how she lies, whose she is, and her jobs."""

    key = serializers.CharField()
    name = serializers.CharField()
    customer = serializers.CharField(source="customer.name")
    length_m = serializers.FloatField()
    beam_m = serializers.FloatField(allow_null=True)
    freeboard_m = serializers.FloatField(allow_null=True)
    shape = serializers.CharField()
    hull_colour = serializers.CharField()
    dark = serializers.BooleanField()
    registration = serializers.CharField(allow_blank=True)
    place = serializers.CharField(source="place.key")
    berth = serializers.CharField(allow_blank=True)
    heading_deg = serializers.FloatField(allow_null=True)
    heading_reference = serializers.ChoiceField(choices=Boat.HeadingReference.choices)
    heading_read_on = serializers.DateField(allow_null=True)
    on_trailer = serializers.BooleanField()
    jobs = serializers.SerializerMethodField()

    def get_jobs(self, boat: Boat) -> list[str]:
        """The keys of her jobs."""
        return [job.key for job in boat.jobs.all()]


class Key(serializers.SlugRelatedField[Any]):
    """A thing by its key."""

    def __init__(self, **options: Any) -> None:  # noqa: ANN401 - as the field takes them
        super().__init__(slug_field="key", **options)

    def to_internal_value(self, data: Any) -> Any:  # noqa: ANN401 - whatever was sent
        """The row of that key.

        Raises:
            ValidationError: there is none, or it is no key.
        """
        if not isinstance(data, str) or not re.fullmatch(r"[-a-zA-Z0-9_]{1,40}", data):
            self.fail("invalid")
        return super().to_internal_value(data)


class Repairs(serializers.Serializer[Any]):
    """Repairs counted by size."""

    S = serializers.IntegerField(min_value=0, max_value=99, required=False)
    M = serializers.IntegerField(min_value=0, max_value=99, required=False)
    L = serializers.IntegerField(min_value=0, max_value=99, required=False)


class TakeJob(serializers.Serializer[Any]):
    """A job to be taken into the book; boat, kind and sheet by their keys."""

    key = serializers.SlugField(max_length=40)
    boat = Key(queryset=Boat.objects.all())
    kind = Key(queryset=JobKind.objects.all())
    sheet = Key(
        queryset=Sheet.objects.all(),
        required=False,
        allow_null=True,
        help_text="Needed where the kind sprays.",
    )
    grade = serializers.IntegerField(min_value=1, max_value=4, required=False)
    repairs = Repairs(required=False)
    panels = serializers.IntegerField(min_value=0, max_value=99, required=False)
    sides_only = serializers.BooleanField(required=False)
    promise = serializers.ChoiceField(choices=Job.Promise.choices, required=False)
    promised_from = serializers.DateTimeField(required=False, allow_null=True)
    promised_by = serializers.DateTimeField(required=False, allow_null=True)
    fixed_start = serializers.DateTimeField(required=False, allow_null=True)
    price_cents = serializers.IntegerField(
        min_value=0, max_value=100_000_000, required=False
    )
    late_cents_per_hour = serializers.IntegerField(
        min_value=0, max_value=1_000_000, required=False
    )
    unfinished_cents = serializers.IntegerField(
        min_value=0, max_value=100_000_000, required=False
    )
    bumped = serializers.IntegerField(min_value=0, max_value=99, required=False)
    note = serializers.CharField(required=False, allow_blank=True, max_length=2000)


class JobShape(serializers.Serializer[Any]):
    """A job in short."""

    key = serializers.CharField()
    boat = serializers.CharField(source="boat.key")
    kind = serializers.CharField(source="kind.key")
    sheet = serializers.CharField(source="sheet.key", default=None, allow_null=True)
    state = serializers.ChoiceField(choices=Job.State.choices)
    grade = serializers.IntegerField()
    repairs = Repairs()
    panels = serializers.IntegerField()
    sides_only = serializers.BooleanField()
    promise = serializers.ChoiceField(choices=Job.Promise.choices)
    promised_from = serializers.DateTimeField(allow_null=True)
    promised_by = serializers.DateTimeField(allow_null=True)
    fixed_start = serializers.DateTimeField(allow_null=True)
    price_cents = serializers.IntegerField()
    bumped = serializers.IntegerField()
    note = serializers.CharField(allow_blank=True)
    taken_at = serializers.DateTimeField()
    handed_back_at = serializers.DateTimeField(allow_null=True)


class VetoShape(serializers.Serializer[Any]):
    """A span in which a stage may not be done, with the numbers compared."""

    plugin = serializers.CharField()
    edge = serializers.ChoiceField(choices=Veto.Edge.choices)
    start = serializers.DateTimeField()
    end = serializers.DateTimeField()
    code = serializers.CharField()
    sentence = serializers.CharField()
    numbers = serializers.DictField(child=serializers.FloatField())
    strength = serializers.CharField()


class Window(serializers.Serializer[Any]):
    """A span in which the whole visit may lie, and the sentence that binds it on either side."""

    start = serializers.DateTimeField()
    end = serializers.DateTimeField()
    before = serializers.CharField(allow_null=True)
    after = serializers.CharField(allow_null=True)


class After(serializers.Serializer[Any]):
    """What a stage waits for: at least minutes, or hours of cure at the sheet's reference temperature."""

    stage = serializers.CharField()
    min_minutes = serializers.IntegerField()
    min_ref_h = serializers.FloatField(allow_null=True)
    max_minutes = serializers.IntegerField(allow_null=True)


class Planned(serializers.Serializer[Any]):
    """The visit of the standing week."""

    van = serializers.CharField()
    start = serializers.DateTimeField()
    end = serializers.DateTimeField()
    sky_says = serializers.ChoiceField(choices=Visit.Sky.choices)
    spoilt = serializers.CharField(
        allow_blank=True, help_text="Why the sky forbids it or is not known."
    )


class StageShape(serializers.Serializer[Any]):
    """A stage: who can do it in how long, and when the sky lets it be done in the coming seven days.

    ``sky`` is "known" only where every plugin judged it over all those days; else there is no window.
    """

    key = serializers.CharField()
    name = serializers.CharField()
    variant = serializers.CharField(allow_blank=True)
    extra = serializers.BooleanField()
    family = serializers.CharField()
    cover = serializers.ChoiceField(choices=Stage.Cover.choices)
    panels = serializers.ListField(child=serializers.CharField())
    state = serializers.ChoiceField(choices=Stage.State.choices)
    started_at = serializers.DateTimeField(allow_null=True)
    ended_at = serializers.DateTimeField(allow_null=True)
    minutes = serializers.DictField(
        child=serializers.IntegerField(), help_text="Minutes on site by team size."
    )
    product_ml = serializers.FloatField()
    gear = serializers.ListField(child=serializers.CharField())
    after = After(many=True)
    planned = Planned(allow_null=True)
    sky = serializers.ChoiceField(choices=("known", "unknown"))
    sky_fault = serializers.CharField(allow_blank=True)
    windows = Window(many=True)
    vetoes = VetoShape(many=True)


class JobStages(serializers.Serializer[Any]):
    """A job's stages in order, and the word in the customer's link."""

    customer_word = serializers.CharField()
    stages = StageShape(many=True)


class WholeJob(JobShape, JobStages):
    """A job with all it consists of."""


class JobsAsked(serializers.Serializer[Any]):
    """Which jobs to list."""

    state = serializers.ChoiceField(choices=Job.State.choices, required=False)
