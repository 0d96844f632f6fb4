"""The outfit's rates and limits: read them, set one."""

from typing import TYPE_CHECKING, Any, cast

from rest_framework import exceptions, serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from dispatch.actions import bounds, rates, setting_words, settings
from dispatch.api.told import endpoint
from dispatch.api.who import Owner

if TYPE_CHECKING:
    from dispatch.records.models import Account


class Setting(serializers.Serializer[Any]):
    """A rate or limit: its unit stands at the end of its name; ``least`` and ``most`` are what it may be set to."""

    name = serializers.CharField()
    title = serializers.CharField(help_text="What people call it.")
    default = serializers.FloatField()
    value = serializers.FloatField()
    least = serializers.FloatField()
    most = serializers.FloatField()
    origin = serializers.CharField(help_text="Where the default comes from.")


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
        return Response(Setting([_told(r) for r in rates.listed()], many=True).data)


class SettingView(APIView):
    """One rate or limit."""

    permission_classes = (Owner,)
    refused_as = 422

    @endpoint("set-setting", Setting, asks=Change, fails=(400, 401, 403, 404, 422))
    def put(self, request: Request, name: str) -> Response:
        """Set one; what hangs on it is judged or reckoned again, and the history says who and why."""
        _known(name)
        shape = Change(data=request.data)
        shape.is_valid(raise_exception=True)
        settings.change(name, by=cast("Account", request.user), **shape.validated_data)
        return _stands(name)

    @endpoint("reset-setting", Setting, fails=(401, 403, 404, 422))
    def delete(self, request: Request, name: str) -> Response:
        """Take one back to its default; refused where that would turn a pair round."""
        _known(name)
        settings.change_all({name: None}, by=cast("Account", request.user))
        return _stands(name)


def _known(name: str) -> None:
    if name not in rates.defaults():
        raise exceptions.NotFound(
            f"There is no setting called {name}. /api/settings/ lists them."
        )


def _stands(name: str) -> Response:
    rate = next(rate for rate in rates.listed() if rate.name == name)
    return Response(Setting(_told(rate)).data)


def _told(rate: rates.Rate) -> dict[str, Any]:
    least, most = bounds.span(rate.name)
    return {
        "name": rate.name,
        "title": setting_words.titled(rate.name),
        "default": rate.default,
        "value": rate.value,
        "least": least,
        "most": most,
        "origin": setting_words.source(rate.name),
    }
