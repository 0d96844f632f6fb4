"""Addresses of the owner's pages of places."""

from django.urls import path

from dispatch.web.owner import hand_sky, place

urlpatterns = [
    path("", place.overview, name="places"),
    path("new/", place.new, name="place-new"),
    path("<slug:key>/", place.one, name="place"),
    path("<slug:key>/sky/", hand_sky.page, name="place-sky"),
    path("<slug:key>/sky/back/", hand_sky.take_back, name="place-sky-back"),
]
