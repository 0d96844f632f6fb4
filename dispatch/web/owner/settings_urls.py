"""Addresses of the owner's settings."""

from django.urls import path

from dispatch.web.owner import catalogue, settings

urlpatterns = [
    path("", settings.overview, name="settings"),
    path("outfit/", settings.particulars, name="settings-outfit"),
    path("catalogue/", catalogue.overview, name="catalogue"),
    path("catalogue/<slug:key>/", catalogue.kind, name="catalogue-kind"),
    path("catalogue/<slug:key>/<int:position>/", catalogue.step, name="catalogue-step"),
    path("<slug:key>/", settings.subject, name="settings-subject"),
]
