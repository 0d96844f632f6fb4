"""The outfit's rates and limits: read them, set one."""

from typing import TYPE_CHECKING, Any, cast

from rest_framework import exceptions, serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from dispatch.actions import rates, settings
from dispatch.api.told import endpoint
from dispatch.api.who import Owner

if TYPE_CHECKING:
    from dispatch.records.models import Account


class Setting(serializers.Serializer[Any]):
    """A rate or limit: its unit stands at the end of its name."""

    name = serializers.CharField()
    default = serializers.FloatField()
    value = serializers.FloatField()


class Change(serializers.Serializer[Any]):
    """A new value, and why."""

    value = serializers.FloatField()
    why = serializers.CharField(
        required=False, allow_blank=True, max_length=500, default=""
    )


class SettingsView(APIView):
    """All rates and limits."""

    permission_classes = (Owner,)

    @endpoint("list-settings", Setting(many=True))
    def get(self, _request: Request) -> Response:
        """List every rate and limit by name, with its default and the value in force."""
        return Response(Setting(rates.listed(), many=True).data)


class SettingView(APIView):
    """One rate or limit."""

    permission_classes = (Owner,)
    refused_as = 422

    @endpoint("set-setting", Setting, asks=Change, fails=(400, 401, 403, 404, 422))
    def put(self, request: Request, name: str) -> Response:
        """Set one; the sky is judged again by it, and the history says who and why."""
        if not any(rate.name == name for rate in rates.listed()):
            raise exceptions.NotFound(
                f"There is no setting called {name}. /api/settings/ lists them."
            )
        shape = Change(data=request.data)
        shape.is_valid(raise_exception=True)
        settings.change(name, by=cast("Account", request.user), **shape.validated_data)
        stands = next(rate for rate in rates.listed() if rate.name == name)
        return Response(Setting(stands).data)
