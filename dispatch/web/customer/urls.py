"""Addresses of the customer's pages."""

from django.urls import path

from dispatch.web.customer import boat

urlpatterns = [
    path("boat/<str:word>/", boat.show, name="boat"),
    path("boat/<str:word>/answer/", boat.answer, name="boat-answer"),
]
