"""Addresses of the owner's pages about plugins."""

from django.urls import path

from dispatch.web.owner import plugins

urlpatterns = [
    path("", plugins.overview, name="plugins"),
    path("<str:name>/", plugins.plugin, name="plugin"),
    path("<str:name>/test/", plugins.test, name="plugin-test"),
    path("<str:name>/off/", plugins.off, name="plugin-off"),
]
