"""Addresses of the owner's pages of people, wheels and stores."""

from django.urls import path

from dispatch.web.owner import away, people, sheets, stores, wheels

urlpatterns = [
    path("people/", people.overview, name="people"),
    path("people/new/", people.new, name="person-new"),
    path("people/<slug:key>/", people.one, name="person"),
    path("people/<slug:key>/sign-in/", people.give_sign_in, name="person-sign-in"),
    path("people/<slug:key>/away/", away.person, name="person-away"),
    path("wheels/vans/<slug:key>/off/", away.van, name="van-off"),
    path("wheels/", wheels.overview, name="wheels"),
    path("wheels/vans/new/", wheels.new_van, name="van-new"),
    path("wheels/vans/<slug:key>/", wheels.van, name="van"),
    path("wheels/gear/new/", wheels.new_gear, name="gear-new"),
    path("wheels/gear/<slug:key>/", wheels.gear, name="gear"),
    path("products/new/", sheets.new, name="sheet-new"),
    path("products/<slug:key>/", sheets.one, name="sheet"),
    path("stores/", stores.overview, name="stores"),
    path("stores/new/", stores.new, name="can-new"),
    path("stores/<int:pk>/", stores.one, name="can"),
    path("stores/<int:pk>/remove/", stores.remove, name="can-remove"),
]
