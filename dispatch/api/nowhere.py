"""Addresses that tell of problems, and addresses that are none."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import exceptions, permissions, serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from dispatch.api.problems import KINDS
from dispatch.api.told import endpoint


class Kind(serializers.Serializer[Any]):
    """A kind of problem in words."""

    kind = serializers.CharField()
    meaning = serializers.CharField()


class KindView(APIView):
    """One kind of problem; open to all, for a stranger meets problems too."""

    authentication_classes = ()
    permission_classes = (permissions.AllowAny,)

    @endpoint("tell-problem", Kind, fails=(404,))
    def get(self, _request: Request, kind: str) -> Response:
        """Tell what a kind of problem means."""
        if kind not in KINDS:
            raise exceptions.NotFound(
                f"There is no kind of problem called {kind}. There are {', '.join(KINDS)}."
            )
        return Response(Kind({"kind": kind, "meaning": KINDS[kind]}).data)


@extend_schema(exclude=True)
class Nowhere(APIView):
    """Whatever else is asked for under this door."""

    authentication_classes = ()
    permission_classes = (permissions.AllowAny,)

    def initial(self, request: Request, *_args: object, **_kwargs: object) -> None:
        """Refuse before anything is read.

        Raises:
            NotFound: always.
        """
        raise exceptions.NotFound(
            f"There is nothing at {request.path}. Addresses end with a slash; /api/schema/ lists them."
        )
