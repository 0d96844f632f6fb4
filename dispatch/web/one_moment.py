"""A request that only reads shows one moment: rates, forecasts and the clock are read once for it."""

from collections.abc import Callable

from django.http import HttpRequest
from django.http.response import HttpResponseBase

from dispatch.actions import one_moment

_Answer = Callable[[HttpRequest], HttpResponseBase]


def middleware(answer: _Answer) -> _Answer:
    """Hold one moment around every request that may change nothing."""

    def ask(request: HttpRequest) -> HttpResponseBase:
        if request.method != "GET":
            return answer(request)
        with one_moment.held():
            return answer(request)

    return ask
