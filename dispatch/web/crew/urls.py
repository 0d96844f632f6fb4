"""Addresses of the crew's pages."""

from django.urls import path

from dispatch.web.crew import route

urlpatterns = [
    path("route/", route.show, name="route"),
    path("route/visits/<int:visit_id>/", route.report, name="report"),
]
