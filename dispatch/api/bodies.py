"""JSON bodies, small and flat enough to read."""

from collections.abc import Mapping
from typing import IO, Any

from rest_framework import exceptions
from rest_framework.parsers import JSONParser

MOST_BYTES = 1_000_000


class TooLarge(exceptions.APIException):
    """The body is larger than anything this door takes."""

    status_code = 413
    default_detail = (
        f"The body is longer than {MOST_BYTES} bytes. Send one thing at a time."
    )
    default_code = "too_large"


class SmallJson(JSONParser):
    """Reads JSON of at most a megabyte."""

    def parse(
        self,
        stream: IO[Any],
        media_type: str | None = None,
        parser_context: Mapping[str, Any] | None = None,
    ) -> Any:  # noqa: ANN401 - whatever JSON holds
        """Return what the body holds.

        Raises:
            TooLarge: it is longer than this door takes.
            ParseError: it is no JSON, or nested without end.
        """
        request = (parser_context or {}).get("request")
        length = request.META.get("CONTENT_LENGTH") if request else None
        if int(length or 0) > MOST_BYTES:
            raise TooLarge
        try:
            return super().parse(stream, media_type, dict(parser_context or {}))
        except RecursionError as error:
            raise exceptions.ParseError(
                "The body is nested too deeply. Send it flat."
            ) from error
