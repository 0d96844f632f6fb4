"""Addresses of the owner's pages of places."""

from django.urls import path

from dispatch.web.owner import place

urlpatterns = [
    path("", place.overview, name="places"),
    path("<slug:key>/", place.one, name="place"),
]
