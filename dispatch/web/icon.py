"""Our mark for whoever asks a house's root for it, as browsers do beside a PDF or a list."""

from pathlib import Path

from django.contrib.staticfiles import finders
from django.http import HttpRequest, HttpResponse
from django.views.decorators.cache import cache_control
from django.views.decorators.http import require_safe


@require_safe
@cache_control(max_age=86_400)
def mark(_: HttpRequest) -> HttpResponse:
    """The mark as SVG."""
    drawn = Path(str(finders.find("leeboard/mark.svg"))).read_bytes()
    return HttpResponse(drawn, content_type="image/svg+xml")
