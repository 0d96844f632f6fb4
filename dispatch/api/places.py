"""The outfit's places as GeoJSON (RFC 7946), for maps and programs that read it."""

from typing import Any

from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from dispatch.actions import places
from dispatch.api.told import endpoint
from dispatch.api.who import Owner


class Point(serializers.Serializer[Any]):
    """Where a place lies: longitude first, then latitude, degrees."""

    type = serializers.CharField()
    coordinates = serializers.ListField(
        child=serializers.FloatField(), min_length=2, max_length=2
    )


class PlaceProperties(serializers.Serializer[Any]):
    """What a map shows of a place."""

    name = serializers.CharField()
    spraying = serializers.CharField()
    time_zone = serializers.CharField()
    boats = serializers.ListField(child=serializers.CharField())


class PlaceFeature(serializers.Serializer[Any]):
    """One place; its ``id`` is its key."""

    type = serializers.CharField()
    id = serializers.CharField()
    geometry = Point()
    properties = PlaceProperties()


class PlaceCollection(serializers.Serializer[Any]):
    """Every place as a FeatureCollection."""

    type = serializers.CharField()
    features = PlaceFeature(many=True)


class PlacesView(APIView):
    """All places."""

    permission_classes = (Owner,)

    @endpoint("list-places", PlaceCollection)
    def get(self, _request: Request) -> Response:
        """List every place as a GeoJSON FeatureCollection of points, longitude first (RFC 7946)."""
        return Response(PlaceCollection(places.geojson()).data)
