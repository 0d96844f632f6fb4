"""Addresses of the crew's pages."""

from django.urls import path

from dispatch.web.crew import (
    amount,
    covering,
    feed,
    kept,
    overruling,
    reading,
    route,
    shut_out,
    taking_back,
    telling,
)

urlpatterns = [
    path("route/", route.show, name="route"),
    path("route/worker.js", kept.worker, name="route-worker"),
    path("route/stages/<int:stage_id>/", route.report, name="report"),
    path("route/stages/<int:stage_id>/read/", reading.take, name="read-hull"),
    path(
        "route/stages/<int:stage_id>/overrule/",
        overruling.overrule,
        name="overrule-visit",
    ),
    path("route/stages/<int:stage_id>/tell/", telling.tell, name="tell-owner"),
    path("route/stages/<int:stage_id>/shut-out/", shut_out.tell, name="shut-out"),
    path(
        "route/stages/<int:stage_id>/shut-out/photo/",
        shut_out.show,
        name="show-shut-out",
    ),
    path("route/stages/<int:stage_id>/amount/", amount.put_right, name="put-right"),
    path("route/stages/<int:stage_id>/back/", taking_back.take, name="take-back"),
    path("route/covers/<int:pk>/", covering.on, name="covered"),
    path("route/calendar/", feed.links, name="feeds"),
    path("feed/<str:word>/", feed.serve, name="feed"),
]
