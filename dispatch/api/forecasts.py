"""Forecasts as they were taken in."""

from typing import Any, cast

from rest_framework import exceptions, serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from dispatch.actions import ask_sky, clock, facts
from dispatch.api.told import endpoint
from dispatch.api.who import Owner
from dispatch.records.models import Account, Forecast, ForecastHour, Place


class Hour(serializers.ModelSerializer[ForecastHour]):
    """One hour as the source gave it; null is unknown, never fine."""

    class Meta:
        """Every number of the row."""

        model = ForecastHour
        exclude = ("id", "forecast")


class Issue(serializers.Serializer[Any]):
    """The newest forecast of a place; where there is none, issued_at is null and nothing is known."""

    place = serializers.CharField()
    source = serializers.CharField(allow_null=True)  # type: ignore[assignment]  # the metaclass takes it away
    issued_at = serializers.DateTimeField(allow_null=True)
    taken_in_at = serializers.DateTimeField(allow_null=True)
    hours = Hour(many=True)


class AskingShape(serializers.Serializer[Any]):
    """How asking stands: since when it waits for an answer (null: nothing is asked), or what came of the last one."""

    since = serializers.DateTimeField(allow_null=True)
    begun = serializers.BooleanField()
    said = serializers.CharField(allow_blank=True)
    went_wrong = serializers.BooleanField()


class ForecastsView(APIView):
    """Every source, for every place."""

    permission_classes = (Owner,)

    @endpoint("read-asking", AskingShape)
    def get(self, _request: Request) -> Response:
        """Tell whether all sources are being asked, or what came when they last were, within a quarter of an hour."""
        return Response(AskingShape(ask_sky.standing()).data)

    @endpoint("ask-forecasts", AskingShape, status=202, fails=(401, 403, 409))
    def post(self, request: Request) -> Response:
        """Have every enabled source asked for every place, in the background; read here what came of it."""
        ask_sky.soon(by=cast("Account", request.user))
        return Response(AskingShape(ask_sky.standing()).data, status=202)


class ForecastView(APIView):
    """The newest forecast of one place."""

    permission_classes = (Owner,)

    @endpoint("read-forecast", Issue, fails=(401, 403, 404))
    def get(self, _request: Request, place: str) -> Response:
        """Tell the newest forecast of a place by the hour, in Celsius, percent, m/s and mm."""
        known = Place.objects.filter(key=place).first()
        if known is None:
            keys = ", ".join(
                Place.objects.values_list("key", flat=True).order_by("key")
            )
            raise exceptions.NotFound(f"There is no place {place}. There are: {keys}.")
        return Response(
            Issue(_told(known, facts.latest_forecast(known, clock.now()))).data
        )


def _told(place: Place, forecast: Forecast | None) -> dict[str, Any]:
    return {
        "place": place.key,
        "source": forecast.source if forecast else None,
        "issued_at": forecast.issued_at if forecast else None,
        "taken_in_at": forecast.taken_in_at if forecast else None,
        "hours": forecast.hours.order_by("at") if forecast else [],
    }
