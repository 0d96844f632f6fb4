"""Addresses of the owner's pages of lists, history and pay."""

from django.urls import path

from dispatch.web.owner import history, lists, pay

urlpatterns = [
    path("history/", history.history, name="history"),
    path("pay/", pay.hours, name="pay"),
    path("pay/<iso-date:starts_on>/", pay.hours, name="pay-of"),
    path("pay/<iso-date:starts_on>/out/", pay.hours_out, name="pay-out"),
    path("minutes/", pay.minutes, name="minutes"),
    path("lists/", lists.overview, name="lists"),
    path("lists/<slug:key>/", lists.bring_in, name="list-in"),
    path("lists/<slug:key>/out/", lists.out, name="list-out"),
]
