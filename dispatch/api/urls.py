"""Addresses of this room."""

from datetime import date

from django.urls import URLPattern, URLResolver, path, re_path, register_converter
from drf_spectacular.views import SpectacularAPIView

from dispatch.api import nowhere, plans, token, weeks


class DateConverter:
    """A calendar date, as 2027-05-24."""

    regex = r"[0-9]{4}-[0-9]{2}-[0-9]{2}"

    def to_python(self, value: str) -> date:
        """Read it; an impossible date matches nothing."""
        return date.fromisoformat(value)

    def to_url(self, value: date) -> str:
        """Write it."""
        return value.isoformat()


register_converter(DateConverter, "date")

urlpatterns: list[URLPattern | URLResolver] = [
    path("schema/", SpectacularAPIView.as_view(), name="schema"),
    path("token/", token.TokenView.as_view()),
    path("problems/<slug:kind>/", nowhere.KindView.as_view()),
    path("weeks/", weeks.WeeksView.as_view()),
    path("weeks/<date:starts_on>/", weeks.WeekView.as_view()),
    path("weeks/<date:starts_on>/build/", weeks.BuildView.as_view()),
    path("plans/<int:pk>/", plans.PlanView.as_view()),
    path("plans/<int:pk>/problem/", plans.ProblemView.as_view()),
    path("plans/<int:pk>/stop/", plans.StopView.as_view()),
    path("plans/<int:pk>/post/", plans.PostView.as_view()),
    re_path("", nowhere.Nowhere.as_view()),
]
