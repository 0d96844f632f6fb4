"""The crew's day is kept on the phone by a worker of the browser's, whose text this serves."""

from pathlib import Path

from django.contrib.staticfiles import finders
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe


@require_safe
def worker(_: HttpRequest) -> HttpResponse:
    """The worker's text, under the address of the pages it keeps, as browsers want it."""
    text = Path(str(finders.find("leeboard/route-worker.js"))).read_text("utf-8")
    answer = HttpResponse(text, content_type="text/javascript; charset=utf-8")
    answer["Cache-Control"] = "no-cache"
    return answer
