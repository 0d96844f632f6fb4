"""Every address of the service: people's pages, and the machines' door under /api/."""

from django.http import HttpRequest, HttpResponse
from django.urls import include, path
from django.views import defaults

from dispatch.api import problems

urlpatterns = [
    path("api/", include("dispatch.api.urls")),
    path("", include("dispatch.web.urls")),
]


def crashed(request: HttpRequest) -> HttpResponse:
    """What a person, or a machine, is told when our own code broke."""
    if request.path.startswith("/api/"):
        return problems.crashed(request)
    return defaults.server_error(request)


handler500 = crashed
