"""Every address of the service: people's pages, and the machines' door under /api/."""

from django.urls import include, path

urlpatterns = [
    path("api/", include("dispatch.api.urls")),
    path("", include("dispatch.web.urls")),
]
