"""Failures as problem details (RFC 9457): one JSON shape for everything that goes wrong."""

from collections.abc import Iterator, Mapping
from http import HTTPStatus
from types import MappingProxyType
from typing import Any

from django.conf import settings
from django.http import HttpRequest, JsonResponse
from rest_framework import exceptions, serializers
from rest_framework.response import Response
from rest_framework.views import exception_handler

from dispatch.actions.errors import Refused, Stale, Stranger

MEDIA_TYPE = "application/problem+json"
KINDS: Mapping[str, str] = MappingProxyType(
    {
        "invalid": "Something in the request is missing or wrong; errors names each field.",
        "sign-in": "The caller is not signed in, or the token or password is wrong.",
        "stranger": "The caller is signed in and may not see or do this.",
        "not-found": "There is nothing by that name.",
        "refused": "The request was understood and refused; detail says why and what to do.",
        "stale": "Somebody else changed it first; nothing was overwritten. Read it again.",
        "locked-out": "Too many wrong passwords; wait and try again.",
        "failed": "Something broke on our side; nothing half-done was kept.",
    }
)
_BY_STATUS = {
    400: "invalid",
    401: "sign-in",
    403: "stranger",
    404: "not-found",
    429: "locked-out",
    500: "failed",
}


class Fault(serializers.Serializer[Any]):
    """One field and what is wrong with it."""

    field = serializers.CharField(help_text="Dotted path, as repairs.M.")
    detail = serializers.CharField()


class Problem(serializers.Serializer[Any]):
    """Problem details for HTTP APIs, RFC 9457 section 3."""

    type = serializers.CharField(
        help_text="An address that tells this kind of problem, or about:blank."
    )
    title = serializers.CharField()
    status = serializers.IntegerField()
    detail = serializers.CharField(help_text="What is wrong and what to do.")
    instance = serializers.CharField(help_text="The path that was asked.")
    errors = Fault(many=True, required=False)  # type: ignore[assignment]  # the metaclass takes it away


def handle(error: Exception, context: dict[str, Any]) -> Response | None:
    """Answer any refusal or failure of a view with problem details; None lets a crash through."""
    view, path = context["view"], context["request"].path
    if isinstance(error, Refused):
        status, kind = _of_refusal(error, getattr(view, "refused_as", 409))
        return answer(status, kind, str(error), path)
    known = exception_handler(error, context)
    if known is None:
        return None
    kind = _BY_STATUS.get(known.status_code, "")
    faults = (
        list(_faults(error.detail))
        if isinstance(error, exceptions.ValidationError)
        else []
    )
    given = answer(known.status_code, kind, _sentence(error, known, faults), path)
    if faults:
        given.data["errors"] = faults
    for name in {"WWW-Authenticate", "Retry-After"} & set(known.headers):
        given[name] = known[name]
    return given


def answer(status: int, kind: str, detail: str, path: str) -> Response:
    """A problem as a response."""
    return Response(
        body(status, kind, detail, path), status=status, content_type=MEDIA_TYPE
    )


def body(status: int, kind: str, detail: str, path: str) -> dict[str, Any]:
    """The members every problem has."""
    return {
        "type": f"{settings.PUBLIC_URL}/api/problems/{kind}/"
        if kind
        else "about:blank",
        "title": HTTPStatus(status).phrase,
        "status": status,
        "detail": _sayable(detail),
        "instance": path,
    }


def crashed(request: HttpRequest) -> JsonResponse:
    """What is told when our own code broke."""
    sentence = "Something broke on our side and nothing was changed. Try again; if it stays so, tell the keeper."
    return JsonResponse(
        body(500, "failed", sentence, request.path), status=500, content_type=MEDIA_TYPE
    )


def _of_refusal(error: Refused, refused_as: int) -> tuple[int, str]:
    if isinstance(error, Stranger):
        return 403, "stranger"
    if isinstance(error, Stale):
        return 409, "stale"
    return refused_as, "refused"


def _sentence(error: Exception, known: Response, faults: list[dict[str, str]]) -> str:
    if faults:
        return " ".join(
            f"{fault['field']}: {fault['detail']}"
            if fault["field"]
            else fault["detail"]
            for fault in faults
        )
    if isinstance(error, exceptions.NotAuthenticated):
        return "Sign in first, or send your token as: Authorization: Token <key>."
    return str((known.data or {}).get("detail", HTTPStatus(known.status_code).phrase))


def _faults(detail: Any, at: str = "") -> Iterator[dict[str, str]]:  # noqa: ANN401 - as the serializer nests it
    """Flatten a serializer's nested errors into field and sentence."""
    if isinstance(detail, dict):
        for name, inner in detail.items():
            own = "" if name == "non_field_errors" else str(name)
            yield from _faults(inner, ".".join(part for part in (at, own) if part))
    elif isinstance(detail, list):
        for inner in detail:
            yield from _faults(inner, at)
    else:
        yield {"field": at, "detail": _sayable(str(detail))}


def _sayable(text: str) -> str:
    """Text that may echo what was sent, in characters that can be sent back."""
    return text.encode("utf-8", "replace").decode()
