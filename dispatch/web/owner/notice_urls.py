"""Addresses of the owner's page about messages."""

from django.urls import path

from dispatch.web.owner import notices

urlpatterns = [
    path("", notices.overview, name="notices"),
    path("<int:pk>/", notices.answer, name="notice-answer"),
    path("called/<slug:key>/", notices.called, name="notice-called"),
]
