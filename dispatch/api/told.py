"""How an endpoint is told of in the schema: its name, its shapes and every way it may fail."""

from collections.abc import Callable, Sequence
from typing import Any, TypeVar

from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema

from dispatch.api.problems import MEDIA_TYPE, Problem

Endpoint = TypeVar("Endpoint", bound=Callable[..., Any])


def endpoint(
    name: str,
    shape: Any,  # noqa: ANN401 - a serializer, its class or a type
    *,
    status: int = 200,
    asks: Any = None,  # noqa: ANN401 - likewise
    query: Any = None,  # noqa: ANN401 - likewise
    fails: Sequence[int] = (401, 403),
) -> Callable[[Endpoint], Endpoint]:
    """Tell of an endpoint; its docstring is the description."""
    responses: dict[Any, Any] = {status: shape}
    responses |= {(code, MEDIA_TYPE): Problem for code in sorted(set(fails))}
    decorate: Callable[[Endpoint], Endpoint] = extend_schema(
        operation_id=name,
        request=asks,
        responses=responses,
        parameters=[query] if query else [],
    )
    return decorate


def in_path(name: str, kind: OpenApiTypes = OpenApiTypes.STR) -> OpenApiParameter:
    """A part of the address."""
    return OpenApiParameter(name, kind, OpenApiParameter.PATH)
