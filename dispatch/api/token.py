"""Sign in by name and password, and get the token to sign in with from then on."""

import math
from typing import Any, cast

from django.conf import settings
from django.contrib.auth import authenticate
from rest_framework import exceptions, permissions, serializers
from rest_framework.authentication import TokenAuthentication
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from dispatch.actions import tokens
from dispatch.api.told import endpoint
from dispatch.records.models import Account


class SignIn(serializers.Serializer[Any]):
    """A name and a password."""

    username = serializers.CharField(max_length=150)
    password = serializers.CharField(
        max_length=1000, trim_whitespace=False, write_only=True
    )


class Token(serializers.Serializer[Any]):
    """What to send as ``Authorization: Token <key>``, and what it opens."""

    token = serializers.CharField()
    role = serializers.ChoiceField(choices=Account.Role.choices)


class TokenView(APIView):
    """The caller's own token."""

    def get_authenticators(self) -> list[Any]:
        """Nobody has to be signed in to sign in."""
        return [] if _signs_in(self) else super().get_authenticators()

    def get_permissions(self) -> list[Any]:
        """Likewise."""
        return (
            [permissions.AllowAny()]
            if _signs_in(self)
            else list(super().get_permissions())
        )

    def get_authenticate_header(self, request: Request) -> str:  # noqa: ARG002
        """What a 401 asks for (RFC 9110 section 11.6.1)."""
        return TokenAuthentication.keyword

    @endpoint("sign-in", Token, asks=SignIn, fails=(400, 401, 429))
    def post(self, request: Request) -> Response:
        """Give the account's token; too many wrong passwords rest the name for a while."""
        shape = SignIn(data=request.data)
        shape.is_valid(raise_exception=True)
        account = authenticate(cast("Any", request), **shape.validated_data)
        if getattr(request, "axes_locked_out", False):
            raise exceptions.Throttled(
                wait=math.ceil(settings.AXES_COOLOFF_TIME.total_seconds()),
                detail="Too many wrong passwords for this name.",
            )
        if not isinstance(account, Account):
            raise exceptions.AuthenticationFailed(
                "Name and password do not go together. Check both."
            )
        return Response(Token({"token": tokens.of(account), "role": account.role}).data)

    @endpoint("drop-token", None, status=204, fails=(401,))
    def delete(self, request: Request) -> Response:
        """Drop the caller's token, as when a phone was lost."""
        tokens.drop(cast("Account", request.user))
        return Response(status=204)


def _signs_in(view: APIView) -> bool:
    """Whether this is the one request that needs no sign-in; a schema asks without any."""
    request: Any = view.request
    return request is not None and request.method == "POST"
