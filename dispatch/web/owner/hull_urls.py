"""Addresses of the owner's pages about a boat and her job."""

from django.urls import path

from dispatch.web.owner import estimate, hull

urlpatterns = [
    path("boats/<slug:key>/", hull.show, name="hull"),
    path("boats/<slug:key>/marks/", hull.marks, name="hull-marks"),
    path("jobs/<slug:key>/", estimate.show, name="estimate"),
    path("jobs/<slug:key>/agree/", estimate.agree, name="estimate-agree"),
    path("jobs/<slug:key>/learn/", estimate.learn, name="estimate-learn"),
]
