"""Forecasts as they were taken in."""

from typing import Any, cast

from rest_framework import exceptions, serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from dispatch.actions import clock, facts, weather
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


class CameShape(serializers.Serializer[Any]):
    """A forecast that came; new where it was not in store already."""

    place = serializers.CharField()
    source = serializers.CharField()  # type: ignore[assignment]  # the metaclass takes it away
    issued_at = serializers.DateTimeField()
    hours = serializers.IntegerField()
    new = serializers.BooleanField()


class FailedShape(serializers.Serializer[Any]):
    """A source that gave nothing for a place, and why."""

    place = serializers.CharField()
    source = serializers.CharField()  # type: ignore[assignment]  # the metaclass takes it away
    why = serializers.CharField()


class AskedShape(serializers.Serializer[Any]):
    """What every source answered; the places in later are asked for in the background."""

    came = CameShape(many=True)
    failed = FailedShape(many=True)
    later = serializers.ListField(child=serializers.CharField())


class ForecastsView(APIView):
    """Every source, for every place."""

    permission_classes = (Owner,)

    @endpoint("ask-forecasts", AskedShape, fails=(401, 403, 409))
    def post(self, request: Request) -> Response:
        """Ask every enabled forecast source for every place now; what failed is told source by source."""
        asked = weather.ask_all(by=cast("Account", request.user))
        return Response(AskedShape(asked).data)


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
