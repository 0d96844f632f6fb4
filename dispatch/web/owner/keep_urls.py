"""Addresses of the owner's pages of lists, history and pay."""

from django.urls import path

from dispatch.web.owner import lists

urlpatterns = [
    path("lists/", lists.overview, name="lists"),
    path("lists/<slug:key>/", lists.bring_in, name="list-in"),
    path("lists/<slug:key>/out/", lists.out, name="list-out"),
]
