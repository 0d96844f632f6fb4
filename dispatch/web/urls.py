"""Addresses of this room."""

from django.contrib.auth.views import LogoutView
from django.urls import URLPattern, URLResolver, include, path

from dispatch.web import demo_clock, hear, icon, sign_in

urlpatterns: list[URLPattern | URLResolver] = [
    path("", sign_in.home, name="home"),
    path("sign-in/", sign_in.SignIn.as_view(), name="sign-in"),
    path("sign-out/", LogoutView.as_view(), name="sign-out"),
    path("favicon.ico", icon.mark, name="icon"),
    path("clock/", demo_clock.move, name="clock"),
    path("week/", include("dispatch.web.owner.urls")),
    path("settings/", include("dispatch.web.owner.settings_urls")),
    path("places/", include("dispatch.web.owner.place_urls")),
    path("messages/", include("dispatch.web.owner.notice_urls")),
    path("hear/<slug:plugin>/", hear.hear, name="hear"),
    path("plugins/", include("dispatch.web.owner.plugin_urls")),
    path("", include("dispatch.web.owner.book_urls")),
    path("", include("dispatch.web.owner.crew_urls")),
    path("", include("dispatch.web.owner.keep_urls")),
    path("", include("dispatch.web.owner.hull_urls")),
    path("", include("dispatch.web.crew.urls")),
    path("", include("dispatch.web.customer.urls")),
]
