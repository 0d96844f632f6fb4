"""Where services post back what became of messages and what people answered; each post is signed."""

from http import HTTPStatus

from django.http import HttpRequest, HttpResponse
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_POST

from dispatch.actions import hearing
from dispatch.actions.errors import Refused, Stale, Stranger


@csrf_exempt  # no session is used: the signature is the key
@require_POST
def hear(request: HttpRequest, plugin: str) -> HttpResponse:
    """Take a post in; it is read in the background."""
    headers = request.headers
    try:
        hearing.take(
            plugin,
            headers.get("X-Leeboard-Timestamp", ""),
            headers.get("X-Leeboard-Signature", ""),
            _body(request),
        )
    except Stranger as stranger:
        return _said(HTTPStatus.UNAUTHORIZED, stranger)
    except Stale as stale:
        return _said(HTTPStatus.CONFLICT, stale)
    except Refused as refusal:
        return _said(HTTPStatus.BAD_REQUEST, refusal)
    return HttpResponse(status=HTTPStatus.ACCEPTED)


def _body(request: HttpRequest) -> bytes:
    """The body, one byte more than may be taken at most."""
    return request.read(hearing.MOST_BYTES + 1) or b""


def _said(status: int, what: Exception) -> HttpResponse:
    return HttpResponse(f"{what}\n", status=status, content_type="text/plain")
