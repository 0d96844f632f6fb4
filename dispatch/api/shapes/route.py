"""What one person does on one day, and a boat's page: sentences beside the numbers they say."""

from typing import Any

from rest_framework import serializers

from dispatch.actions import boat_stands, boat_strip, ready
from dispatch.records.models import Visit


class Words(serializers.ListField):
    """Sentences, in the order they are to be read."""

    child = serializers.CharField()


class Place(serializers.Serializer[Any]):
    """What is to be known of a place on a day; its hours are its own."""

    name = serializers.CharField()
    address = serializers.CharField(allow_blank=True)
    gate = serializers.CharField(allow_blank=True)
    rules = serializers.CharField(allow_blank=True)
    hours = Words()
    shut = Words()
    neighbours = Words()
    supplies = Words()
    spraying = serializers.CharField()


class Ready(serializers.Serializer[Any]):
    """GO, WAIT or NO as the sky is known, and why; never that anything is safe."""

    word = serializers.ChoiceField(choices=(ready.GO, ready.WAIT, ready.NO))
    at = serializers.DateTimeField()
    until = serializers.DateTimeField(allow_null=True)
    sentence = serializers.CharField()
    overruled_by = serializers.CharField(allow_blank=True)


class Side(serializers.Serializer[Any]):
    """A panel of the hull: in shade or not, and until when."""

    panel = serializers.CharField()
    shaded = serializers.BooleanField()
    until = serializers.DateTimeField(allow_null=True)


class Sun(serializers.Serializer[Any]):
    """Where the sun stands to the hull, and the latest start that keeps the work in shade."""

    at = serializers.DateTimeField()
    heading_true_deg = serializers.FloatField()
    azimuth_deg = serializers.FloatField()
    elevation_deg = serializers.FloatField()
    sides = Side(many=True)
    start_from = serializers.DateTimeField(allow_null=True)
    start_by = serializers.DateTimeField(allow_null=True)


class VisitCard(serializers.Serializer[Any]):
    """One visit; ready is null once it is done, sun where the heading is not known."""

    visit_id = serializers.IntegerField()
    stage_name = serializers.CharField()
    job_key = serializers.CharField()
    boat = serializers.CharField()
    boat_words = serializers.CharField()
    berth = serializers.CharField(allow_blank=True)
    state = serializers.CharField()
    started_at = serializers.DateTimeField(allow_null=True)
    ended_at = serializers.DateTimeField(allow_null=True)
    steps = Words()
    hands = Words()
    cover = serializers.CharField(allow_blank=True)
    product = serializers.CharField(allow_blank=True)
    lays_film = serializers.BooleanField()
    too_little = serializers.CharField(
        allow_blank=True, help_text="That the cans do not do for her second coat."
    )
    ready = Ready(allow_null=True)
    sky_says = serializers.ChoiceField(choices=Visit.Sky.choices)
    spoilt = serializers.CharField(
        allow_blank=True, help_text="Why the sky forbids it or is not known."
    )
    sky = serializers.CharField()
    sun = Sun(allow_null=True)
    sun_unknown = serializers.CharField(allow_blank=True)
    film = Words()
    readings = Words()
    overruled = serializers.CharField(allow_blank=True)
    note = serializers.CharField(allow_blank=True)


class TowCard(serializers.Serializer[Any]):
    """A move of equipment to the stop's place."""

    equipment = serializers.CharField()
    origin = serializers.CharField()
    weight = serializers.CharField()
    towed = serializers.BooleanField()
    take_minutes = serializers.IntegerField()
    set_minutes = serializers.IntegerField()


class Stop(serializers.Serializer[Any]):
    """One stop: a visit or a tow, and the minutes of driving to it."""

    start = serializers.DateTimeField()
    end = serializers.DateTimeField()
    drive_minutes = serializers.IntegerField()
    place = Place()
    visit = VisitCard(allow_null=True)
    tow = TowCard(allow_null=True)


class Item(serializers.Serializer[Any]):
    """One thing to have aboard."""

    what = serializers.CharField()
    much = serializers.CharField(allow_blank=True)
    boats = Words()
    where = serializers.CharField(
        allow_blank=True, help_text="Where a product's cans are kept."
    )
    aboard = serializers.BooleanField(help_text="It is always in the van.")


class Route(serializers.Serializer[Any]):
    """A van's day as it is driven."""

    now = serializers.DateTimeField()
    van = serializers.CharField()
    base = serializers.CharField()
    team = Words()
    depart = serializers.DateTimeField(help_text="When loading at the base begins.")
    drives_off = serializers.DateTimeField()
    back = serializers.DateTimeField()
    back_minutes = serializers.IntegerField()
    rest = serializers.ListField(
        child=serializers.DateTimeField(),
        allow_null=True,
        help_text="When the break begins and ends.",
    )
    stops = Stop(many=True)
    load = Item(many=True)
    cautions = Words()


class Day(serializers.Serializer[Any]):
    """The caller's day: route is null where the caller rides nowhere, next_day when next."""

    day = serializers.DateField()
    next_day = serializers.DateField(allow_null=True)
    route = Route(allow_null=True)


class DayAsked(serializers.Serializer[Any]):
    """Which day; today by the outfit's clock where none is given."""

    day = serializers.DateField(required=False)


class Piece(serializers.Serializer[Any]):
    """One stage as her owner reads it: a day where one is known, never an hour."""

    name = serializers.CharField()
    state = serializers.ChoiceField(
        choices=(
            boat_strip.DONE,
            boat_strip.SETTING,
            boat_strip.NOW,
            boat_strip.PLANNED,
            boat_strip.LATER,
        )
    )
    day = serializers.DateField(allow_null=True)
    words = serializers.CharField()


class BoatPage(serializers.Serializer[Any]):
    """A boat for the person who owns her: no price, nobody's name, nobody else's boat."""

    boat = serializers.CharField()
    about = serializers.CharField()
    place = serializers.CharField()
    outfit = serializers.CharField()
    as_of = serializers.DateTimeField()
    stands = serializers.CharField()
    comes_next = serializers.CharField(allow_blank=True)
    promised = serializers.CharField(allow_blank=True)
    help = Words()
    strip = Piece(many=True)
    panels = serializers.DictField(
        child=serializers.ChoiceField(
            choices=(boat_stands.BARE, boat_stands.WET, boat_stands.HARD)
        )
    )
    heading_true_deg = serializers.FloatField(allow_null=True)
